"""From the short form to the resolved `Game`: defaults filled in, metres and seconds, everything by name."""

from __future__ import annotations

from sim.game import model
from sim.game.actions import (
    AssignAction,
    CloseAction,
    EndAction,
    OpenAction,
    PhaseAction,
    ResetAction,
    RestartAction,
    ScoreAction,
    SwapAction,
    TradeAction,
)
from sim.game.family import family_of
from sim.game.layout import lay_out
from sim.game.roster import pairs_of, roster
from sim.game.spec import (
    BoutsSpec,
    GameSpec,
    PhaseSpec,
    PlayerSpec,
    RestartSpec,
    WinSpec,
)
from sim.game.trials import offset_of
from sim.units import SECONDS_PER_MINUTE

DEFAULT_REST_S = 60.0
HEADLINE = ("pass_success", "pressing_speed", "recovery")
INSTRUCTIONS = ("press", "marking", "width", "depth", "tempo", "positions", "effort")  # of a role, as written


def action(short) -> model.Action:
    """One consequence."""
    match short:
        case OpenAction():
            return model.Action(verb="open", what=short.open)
        case CloseAction():
            return model.Action(verb="close", what=short.close)
        case ScoreAction():
            return model.Action(verb="score", to=short.to, value=short.score)
        case SwapAction():
            return model.Action(verb="swap", who=short.swap, other=short.with_)
        case TradeAction():
            return model.Action(verb="trade", what=short.trade)
        case AssignAction():
            return model.Action(
                verb="assign",
                role=short.assign,
                who=short.of,
                from_role=short.from_,
                count=short.count,
                other=short.choose,
            )
        case PhaseAction():
            return model.Action(verb="phase", what=short.phase)
        case RestartAction():
            return model.Action(verb="restart", what=short.restart)
        case ResetAction():
            return model.Action(verb="reset", what=short.reset)
        case EndAction():
            return model.Action(verb="end")


def phase(name: str, short: PhaseSpec) -> model.Phase:
    """One phase with its jobs and rules."""
    jobs = []
    for role, words in short.jobs.items():
        style, _, place = words.split()
        jobs.append(model.Job(role=role, style=style, place=place))
    rules = [
        model.Rule(
            name=rule_name,
            on=rule.on,
            count=rule.count,
            causes=tuple(rule.causes),
            by=rule.by,
            from_area=rule.from_,
            to_area=rule.to,
            each=rule.each,
            do=tuple(action(one) for one in rule.do),
        )
        for rule_name, rule in short.rules.items()
    ]
    return model.Phase(
        name=name,
        aim=short.aim,
        ball_in=short.ball_in,
        open=tuple(short.open),
        jobs=tuple(jobs),
        rules=tuple(rules),
    )


def start_phase(short: GameSpec) -> str:
    """The first phase: as written, else the first in the file."""
    return short.start.phase if short.start.phase is not None else next(iter(short.phases))


def start_area(short: GameSpec) -> str:
    """The first area: as written, else where the first phase has the ball, else the first in the file."""
    if short.start.area is not None:
        return short.start.area
    first = short.phases.get(start_phase(short))
    return first.ball_in if first is not None and first.ball_in in short.areas else next(iter(short.areas))


def restarts(short: GameSpec) -> dict[str, RestartSpec]:
    """All restarts; "start" (the server plays in the side that starts) and "out" (a new ball to the other side) always."""
    standard = {
        "start": RestartSpec(to=short.start.side, area=start_area(short)),
        "out": RestartSpec(to="other"),
    }
    return standard | short.restarts


def _bouts(short: BoutsSpec) -> model.Bouts:
    seconds = short.seconds if short.seconds is not None else short.minutes * SECONDS_PER_MINUTE
    if short.rest_seconds is not None:
        rest = short.rest_seconds
    else:
        rest = DEFAULT_REST_S if short.rest_minutes is None else short.rest_minutes * SECONDS_PER_MINUTE
    roles = "list" if short.rotate == "list" else short.roles or "carry on"
    return model.Bouts(count=short.count, seconds=seconds, rest_seconds=rest, rotate=short.rotate, roles=roles)


def _win(short: WinSpec) -> model.Win:
    amount = {"control": 0.0, "hold": short.seconds, "passes": short.passes}[short.confirm]
    return model.Win(confirm=short.confirm, amount=amount)


def _headline(values) -> dict[str, float | None]:
    """The three headline values of a team's or a player's table."""
    return {key: getattr(values, key, None) for key in HEADLINE}


def _tests(known: PlayerSpec | None) -> dict[str, object]:
    """The fitness tests of a player's table."""
    if known is None:
        return {}
    sprint, shuttle = known.sprint, known.shuttle
    if sprint is not None:
        sprint = model.SprintTest(
            metres=tuple(sprint.metres), seconds=tuple(sprint.seconds), offset_seconds=offset_of(sprint)
        )
    return {
        "sprint": sprint,
        "intermittent_run": known.intermittent_run,
        "shuttle": None if shuttle is None else model.ShuttleTest(**shuttle.model_dump()),
    }


def _players(short: GameSpec) -> tuple[model.Player, ...]:
    players = [
        model.Player(
            id=place.id,
            team=place.team,
            number=place.number,
            role=place.role,
            **_headline(short.players.get(place.id)),
            **_tests(short.players.get(place.id)),
            restricted=place.id in short.players and short.players[place.id].restricted,
        )
        for place in roster(short)
    ]
    return tuple(sorted(players, key=lambda player: player.id))


def to_game(short: GameSpec, name: str) -> model.Game:
    """The resolved game of a short form that `sim.game.references` found sound."""
    areas, goals = lay_out(short)
    players = _players(short)
    teams = [
        model.Team(
            name=team_name,
            population=team.population,
            home=team.home,
            players=tuple(p.id for p in sorted(players, key=lambda p: (p.number, p.id)) if p.team == team_name),
            pairs=pairs_of(short, team_name),
            **_headline(team),
        )
        for team_name, team in short.teams.items()
    ]
    roles = [
        model.Role(
            name=role_name,
            side=role.side,
            style=role.style,
            place=role.place,
            touches=None if role.touches == "free" else role.touches,
            win_back_s=role.win_back,
            **{key: getattr(role, key) for key in INSTRUCTIONS},
        )
        for role_name, role in short.roles.items()
    ]
    game = model.Game(
        format=short.format,
        name=short.name if short.name is not None else name,
        title=short.title,
        purpose=short.purpose,
        club=short.club,
        family="",
        start_side=short.start.side,
        start_phase=start_phase(short),
        start_area=start_area(short),
        hold_limit_s=short.hold_limit_seconds,
        between_areas=short.between_areas,
        areas=areas,
        goals=goals,
        teams=tuple(teams),
        players=players,
        roles=tuple(roles),
        phases=tuple(phase(phase_name, one) for phase_name, one in short.phases.items()),
        restarts=tuple(
            model.Restart(name=restart_name, to=one.to, source=one.from_, seconds=one.seconds, area=one.area)
            for restart_name, one in restarts(short).items()
        ),
        supply=model.Supply(balls=short.supply.balls, retrieve_seconds=short.supply.retrieve_seconds),
        bouts=_bouts(short.bouts),
        win=_win(short.win),
        load=model.Load(**short.load.model_dump()),
    )
    return game.model_copy(update={"family": family_of(game)})
