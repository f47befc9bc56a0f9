"""From the short form to the resolved `Game`: defaults filled in, metres and seconds, everything by name."""

from __future__ import annotations

from sim.errors import given
from sim.game import model, terms
from sim.game.actions import ActionSpec, ResizeAction, verb_of
from sim.game.bouts_spec import BoutsSpec
from sim.game.counters import Counter
from sim.game.counting import CounterSpec, conditions_of, resets_of
from sim.game.family import family_of
from sim.game.fouls import FOUL
from sim.game.layout import gates_of, lay_out, zones_of
from sim.game.model import AFTER_A_GOAL
from sim.game.roster import pairs_of, roster
from sim.game.spec import (
    GameSpec,
    PhaseSpec,
    PlayerSpec,
    RestartSpec,
    RoleSpec,
    TeamSpec,
    WinSpec,
)
from sim.game.trials import offset_of
from sim.game.verbs import KINDS, Action
from sim.populations import KEY_ABILITIES
from sim.units import SECONDS_PER_MINUTE, to_metres

DEFAULT_REST_S = 60.0
FREE_RESTART_S = 2.0  # after a foul
METRES = "metres"
ENDS = ("balls", "first_to", "level_seconds", "finish_seconds")  # of a bout, as written
NEXT = (
    "best_of",
    "first_ball",
    "points",
    "points_by",
    "stays",
    "longest_stay",
    "tie",
    "clock",
)  # beyond its length, as written
INSTRUCTIONS = (
    "press",
    "marking",
    "width",
    "depth",
    "tempo",
    "positions",
    "effort",
    "tackled",
    "hands",
)  # of a role, as written


def action(spec: ActionSpec, units: str = METRES) -> Action:
    """One consequence, as its verb has it in a resolved game; lengths are written in `units`."""
    kind, words = KINDS[given(verb_of(spec))], spec.model_dump(by_alias=True)
    if isinstance(spec, ResizeAction):
        words |= {"by": to_metres(spec.by, units), "to": to_metres(spec.to, units)}
    keys = {name: field.serialization_alias or name for name, field in kind.model_fields.items() if name != "verb"}
    return kind.model_validate({name: words[key] for name, key in keys.items()})


def phase(name: str, spec: PhaseSpec, units: str = METRES) -> model.Phase:
    """One phase with its jobs and rules; lengths are written in `units`."""
    jobs = []
    for role, words in spec.jobs.items():
        style, _, place = words.split()
        jobs.append(model.Job(role=role, style=style, place=place))
    rules = [
        model.Rule(
            name=rule_name,
            on=rule.on,
            count=rule.count,
            causes=tuple(rule.causes),
            by=rule.by,
            colour=rule.colour,
            counter=rule.counter,
            last_step=rule.last_step,
            each=rule.each,
            do=tuple(action(one, units) for one in rule.do),
            **conditions_of(rule),
        )
        for rule_name, rule in spec.rules.items()
    ]
    return model.Phase(
        name=name,
        aim=spec.aim,
        ball_in=spec.ball_in,
        open=tuple(spec.open),
        jobs=tuple(jobs),
        rules=tuple(rules),
        aims=tuple((side, aim) for side, aim in spec.aims.items() if aim != spec.aim),
        open_for=tuple((side, tuple(what)) for side, what in spec.open_for.items()),
    )


def turned(role: RoleSpec) -> dict[str, str | None]:
    """Where a role plays with and without the ball, as written."""
    return {"with_ball": role.with_ball, "without_ball": role.without_ball}


def start_phase(spec: GameSpec) -> str:
    """The first phase: as written, else the first in the file."""
    return spec.start.phase if spec.start.phase is not None else next(iter(spec.phases))


def start_area(spec: GameSpec) -> str:
    """The first area: as written, else where the first phase has the ball, else the first in the file."""
    if spec.start.area is not None:
        return spec.start.area
    first = spec.phases.get(start_phase(spec))
    return first.ball_in if first is not None and first.ball_in in spec.areas else next(iter(spec.areas))


def scored_by_both(spec: GameSpec) -> bool:
    """Whether both sides have a goal to attack."""
    attackers = {goal.attacked_by for goal in spec.goals.values()}
    return "any" in attackers or len(attackers) > 1


def restarts(spec: GameSpec) -> dict[str, RestartSpec]:
    """All restarts.

    Always "start" (the server plays in the side that starts) and "out" (a new ball to the other side); "foul" (to the side that was
    fouled, where the ball was) where the game has fouls; and "goal" (as start, but to the side that conceded) where both sides have
    a goal to attack and the file leaves out start.
    """
    standard = {
        "start": RestartSpec(to=spec.start.side, area=start_area(spec)),
        "out": RestartSpec(to="other"),
    }
    if spec.fouls.share:  # before that of a goal, which a file with every restart brings itself
        standard[FOUL] = RestartSpec.model_validate({"to": "other", "from": "line", "seconds": FREE_RESTART_S})
    if "start" not in spec.restarts and scored_by_both(spec):
        standard[AFTER_A_GOAL] = RestartSpec(to="other", area=start_area(spec))
    return standard | spec.restarts


def _bouts(spec: BoutsSpec) -> terms.Bouts:
    seconds = spec.seconds if spec.seconds is not None else given(spec.minutes) * SECONDS_PER_MINUTE
    if spec.rest_seconds is not None:
        rest = spec.rest_seconds
    else:
        rest = DEFAULT_REST_S if spec.rest_minutes is None else spec.rest_minutes * SECONDS_PER_MINUTE
    roles = "list" if spec.rotate == "list" else spec.roles or "carry on"
    return terms.Bouts(
        count=spec.count,
        seconds=seconds,
        rest_seconds=rest,
        rotate=spec.rotate,
        roles=roles,
        **{key: getattr(spec, key) for key in (*ENDS, *NEXT)},
    )


def _counter(name: str, spec: CounterSpec) -> Counter:
    return Counter(
        name=name, of=spec.of, start=spec.start, resets=resets_of(spec), scope=spec.scope, **conditions_of(spec)
    )


def _win(spec: WinSpec) -> terms.Win:
    amount = {"hold": spec.seconds, "passes": spec.passes}.get(spec.confirm, 0.0)
    return terms.Win(
        confirm=spec.confirm, amount=given(amount), gate=spec.gate, contested=spec.contested, together=spec.together
    )


def _key_abilities(values: TeamSpec | PlayerSpec | None) -> dict[str, float | None]:
    """The three key abilities of a team's or a player's table."""
    return {key: getattr(values, key, None) for key in KEY_ABILITIES}


def _tests(known: PlayerSpec | None) -> dict[str, object]:
    """The fitness tests of a player's table."""
    if known is None:
        return {}
    splits, shuttle = known.sprint, known.shuttle
    sprint = None
    if splits is not None:
        sprint = model.SprintTest(
            metres=tuple(splits.metres), seconds=tuple(splits.seconds), offset_seconds=offset_of(splits)
        )
    return {
        "sprint": sprint,
        "intermittent_run": known.intermittent_run,
        "shuttle": None if shuttle is None else model.ShuttleTest(**shuttle.model_dump()),
    }


def _limits(known: PlayerSpec | None) -> dict[str, object]:
    """What a player may not do, as the player's table has it."""
    if known is None:
        return {}
    touches = known.touches if isinstance(known.touches, int) else None
    minutes = known.most_minutes
    return {
        "touches": touches,
        "never": tuple(known.never),
        "tackles": known.tackles,
        "most_bouts": known.most_bouts,
        "most_seconds": None if minutes is None else minutes * SECONDS_PER_MINUTE,
    }


def _players(spec: GameSpec) -> tuple[model.Player, ...]:
    players = [
        model.Player(
            id=place.id,
            team=place.team,
            number=place.number,
            role=place.role,
            **_key_abilities(spec.players.get(place.id)),
            **_tests(spec.players.get(place.id)),
            restricted=place.id in spec.players and spec.players[place.id].restricted,
            **_limits(spec.players.get(place.id)),
        )
        for place in roster(spec)
    ]
    return tuple(sorted(players, key=lambda player: player.id))


def to_game(spec: GameSpec, name: str) -> model.Game:
    """The resolved game of a short form that `sim.game.references` found sound."""
    areas, goals = lay_out(spec)
    players = _players(spec)
    teams = [
        model.Team(
            name=team_name,
            population=team.population,
            home=team.home,
            players=tuple(p.id for p in sorted(players, key=lambda p: (p.number, p.id)) if p.team == team_name),
            pairs=pairs_of(spec, team_name),
            **_key_abilities(team),
        )
        for team_name, team in spec.teams.items()
    ]
    roles = [
        model.Role(
            name=role_name,
            side=role.side,
            style=role.style,
            place=role.place,
            touches=None if role.touches == "free" else role.touches,
            win_back_s=role.win_back,
            ladder=tuple(role.ladder),
            **{key: words and (words.split()[0], words.split()[2]) for key, words in turned(role).items()},
            **{key: getattr(role, key) for key in INSTRUCTIONS},
        )
        for role_name, role in spec.roles.items()
    ]
    game = model.Game(
        format=spec.format,
        name=spec.name if spec.name is not None else name,
        title=spec.title,
        purpose=spec.purpose,
        club=spec.club,
        family="",
        start_side=spec.start.side,
        start_phase=start_phase(spec),
        start_area=start_area(spec),
        hold_limit_s=spec.hold_limit_seconds,
        between_areas=spec.between_areas,
        foul_share=spec.fouls.share,
        areas=areas,
        goals=goals,
        teams=tuple(teams),
        players=players,
        roles=tuple(roles),
        phases=tuple(phase(phase_name, one, spec.units) for phase_name, one in spec.phases.items()),
        restarts=tuple(
            model.Restart(
                name=restart_name,
                to=one.to,
                source=one.from_,
                seconds=one.seconds,
                area=one.area,
                role=one.role,
                by=one.by,
                gate=one.gate,
            )
            for restart_name, one in restarts(spec).items()
        ),
        supply=terms.Supply(balls=spec.supply.balls, retrieve_seconds=spec.supply.retrieve_seconds),
        bouts=_bouts(spec.bouts),
        win=_win(spec.win),
        load=terms.Load(**spec.load.model_dump()),
        gates=gates_of(spec),
        start_points=tuple((side, points) for side, points in spec.start.points.items() if points),
        counters=tuple(_counter(counter_name, counter) for counter_name, counter in spec.counters.items()),
        loss=terms.Loss(**spec.loss.model_dump()),
        zones=zones_of(spec) if spec.zones else (),
    )
    return game.model_copy(update={"family": family_of(game)})
