"""Games and bout logs made by hand, small enough to count on the fingers."""

from __future__ import annotations

import math

import numpy as np

from sim.game.model import Area, Game, Goal, Job, Phase, Player, Restart, Role, Rule, Team
from sim.game.terms import Bouts, Supply, Win
from sim.game.verbs import Score, Serve, Swap
from sim.pitch.log import BoutLog
from sim.players import draw_roster
from sim.trajectory import RUN

NAN = math.nan


def restart(name: str) -> Restart:
    return Restart(name=name, to="outside", source="server", seconds=4.0, area="square")


def square_game(count: int = 2, threshold: float = 3.0) -> Game:
    """4v2 in a square of 10 m, loser swaps in, a point for `threshold` passes; p1-p4 outside, p5 and p6 inside."""
    players = tuple(
        Player(
            id=f"p{i}",
            team="squad",
            number=i,
            role="outside" if i < 5 else "inside",
            pass_success=None,
            pressing_speed=None,
            recovery=None,
        )
        for i in range(1, 7)
    )
    swap = Rule(
        name="loser goes in",
        on="loss",
        count=None,
        causes=(),
        by="outside",
        each=False,
        do=(Swap(who="loser", other="winner"), Serve(what="start")),
    )
    point = Rule(
        name="a point",
        on="passes",
        count=threshold,
        causes=(),
        by="outside",
        each=False,
        do=(Score(to="outside", value=1.0),),
    )
    return Game(
        format=1,
        name="square",
        title="A square",
        purpose="to be counted",
        club="Quillhaven",
        family="overload keep-ball",
        start_side="outside",
        start_phase="keep",
        start_area="square",
        hold_limit_s=8.0,
        between_areas="out",
        areas=(Area(name="square", length=10, width=10, x=0, y=0, run_off=2),),
        goals=(),
        teams=(Team(name="squad", population="elite men", home=None, players=tuple(p.id for p in players)),),
        players=players,
        roles=(
            Role(name="outside", side="outside", style="edge", place="square", touches=2),
            Role(name="inside", side="inside", style="free", place="square", touches=None),
        ),
        phases=(Phase(name="keep", aim="keep", ball_in="square", open=(), jobs=(), rules=(swap, point)),),
        restarts=(restart("start"), restart("out")),
        supply=Supply(balls=6, retrieve_seconds=6),
        bouts=Bouts(count=count, seconds=60, rest_seconds=30, rotate="none"),
        win=Win(confirm="control", amount=0),
    )


def goals_game() -> Game:
    """2v2 on a field of 30 x 20 m with a keeper each and a floater: teams are the sides."""
    squads = {"amber": ("a1", "a2", "ak"), "slate": ("s1", "s2", "sk"), "white": ("w1",)}
    roles = {"1": "field", "2": "field", "k": "keeper"}
    players = tuple(
        Player(
            id=name,
            team=team,
            number=n,
            role="floater" if team == "white" else roles[name[1]],
            pass_success=None,
            pressing_speed=None,
            recovery=None,
        )
        for team, names in squads.items()
        for n, name in enumerate(names, 1)
    )
    return Game(
        format=1,
        name="goals",
        title="Two goals",
        purpose="to be counted",
        club="Quillhaven",
        family="even with goals",
        start_side="amber",
        start_phase="play",
        start_area="field",
        hold_limit_s=8.0,
        between_areas="out",
        areas=(Area(name="field", length=30, width=20, x=0, y=0, run_off=2),),
        goals=(
            Goal(name="west", x=-15, y=0, width=5, height=2, end="west", attacked_by="slate"),
            Goal(name="east", x=15, y=0, width=5, height=2, end="east", attacked_by="amber"),
        ),
        teams=tuple(Team(name=n, population="women", home=None, players=p) for n, p in squads.items()),
        players=players,
        roles=(
            Role(name="field", side="team", style="free", place="field", touches=None),
            Role(name="keeper", side="team", style="goal", place="west", touches=None),
            Role(name="floater", side="holder", style="free", place="field", touches=None),
        ),
        phases=(
            Phase(
                name="play",
                aim="goal",
                ball_in="field",
                open=("shoot",),
                jobs=(),
                rules=(
                    Rule(
                        name="goal",
                        on="goal",
                        count=None,
                        causes=(),
                        by=None,
                        each=False,
                        do=(Score(to="holder", value=1.0),),
                    ),
                ),
            ),
        ),
        restarts=(restart("start"), restart("out")),
        supply=Supply(balls=6, retrieve_seconds=6),
        bouts=Bouts(count=1, seconds=60, rest_seconds=30, rotate="none"),
        win=Win(confirm="control", amount=0),
    )


def grids_game() -> Game:
    """Two grids, three a team; "home" players stay at home, "chaser"s go where the ball is."""
    game = goals_game()
    teams = tuple(
        Team(name=name, population="U12", home=f"{name}-grid", players=tuple(f"{name[0]}{i}" for i in (1, 2, 3)))
        for name in ("amber", "slate")
    )
    players = tuple(
        Player(id=name, team=team.name, number=n, role="home", pass_success=None, pressing_speed=None, recovery=None)
        for team in teams
        for n, name in enumerate(team.players, 1)
    )
    areas = tuple(
        Area(name=f"{n}-grid", length=8, width=8, x=x, y=0, run_off=1) for n, x in (("amber", -8), ("slate", 8))
    )
    roles = (
        Role(name="home", side="team", style="free", place="home", touches=None),
        Role(name="chaser", side="team", style="free", place="active", touches=None),
    )
    phase = Phase(
        name="play", aim="home", ball_in="active", open=(), jobs=(Job(role="chaser", style="free", place="active"),),
        rules=(),
    )  # fmt: skip
    return game.model_copy(
        update=dict(name="grids", family="role swap", start_area="amber-grid", areas=areas, goals=(), teams=teams,
                    players=players, roles=roles, phases=(phase,))
    )  # fmt: skip


class Bout:
    """Writes a bout log, one call an event: `bout(t, kind, player, ...)`."""

    def __init__(self, game: Game, replicate: int = 0, number: int = 0):
        self.game, self.replicate, self.number = game, replicate, number
        self.phase, self.area, self.passes = game.start_phase, game.start_area, 0
        self.events: list[tuple] = []
        self.rows: list[list[float]] = []
        self.ids = tuple(player.id for player in game.players)
        self.roles = tuple(role.name for role in game.roles)
        self(0.0, "begin")
        for player in game.players:
            self.job(0.0, player.id, player.role)

    def __call__(self, t, kind, player="", other="", side="", cause="", detail="", value=NAN, x=NAN, y=NAN):
        state = (self.phase, self.area, self.passes)
        self.events.append((t, len(self.events), kind, player, other, side, cause, detail, value, x, y, *state))

    def job(self, t, player, role, style=None):
        what = self.game.role(role)
        team = next(p.team for p in self.game.players if p.id == player)
        side = team if what.side == "team" else what.side
        self(t, "job", player, side=side, cause=role, detail=style or what.style)

    def runs(self, player, role, t0, t1, v, a=(0.0, 0.0), rate=0.0):
        self.rows.append((self.ids.index(player), t0, t1, 0, 0, *v, *a, rate, self.roles.index(role)))

    def log(self, duration=60.0) -> BoutLog:
        self(duration, "end")
        roster = draw_roster(self.game, 1, self.replicate)
        return BoutLog(
            game=self.game.name,
            seed=1,
            replicate=self.replicate,
            bout=self.number,
            duration_s=duration,
            players=self.ids,
            teams=tuple(p.team for p in self.game.players),
            roles=self.roles,
            events=tuple(self.events),
            segments=np.array(self.rows, RUN),
            profiles=tuple(roster[name] for name in self.ids),
        )


def square_bout(replicate: int = 0, number: int = 0, late: float = 0.0) -> BoutLog:
    """A bout of 60 s in the square game.  `late` delays the first loss.

    In play 2-12 and 20-60; p1 loses it to p5 at 10, they swap (p1 inside with p6); p2 puts it out at 30 (in play until
    then), p2 and p6 swap, served again at 35; three passes, a threshold, a point; p3 has it when the bout ends.
    """
    bout = Bout(square_game(), replicate, number)
    bout.runs("p1", "outside", 0, 10, (1.0, 0.0))
    bout.runs("p1", "inside", 10, 60, (3.0, 0.0))
    for name in ("p2", "p3", "p4"):
        bout.runs(name, "outside", 0, 60, (0.5, 0.0))
    bout.runs("p5", "inside", 0, 2, (0.0, 0.0), (4.0, 0.0))
    bout.runs("p5", "inside", 2, 10, (8.0, 0.0))
    bout.runs("p5", "outside", 10, 60, (0.5, 0.0))
    bout.runs("p6", "inside", 0, 60, (2.0, 0.0))
    bout(2, "live", side="outside", other="p1")
    bout(3, "touch", "p1", side="outside")
    bout(3, "possession", "p1", side="outside")
    bout(4, "touch", "p1", side="outside")
    bout(4, "release", "p1", "p2", side="outside", detail="pass", cause="free", value=8.0)
    bout(5, "touch", "p2", side="outside")
    bout(5, "receive", "p2", "p1", side="outside", value=8.0)
    bout(5, "release", "p2", "p1", side="outside", detail="first-time", cause="free", value=8.0)
    bout(6, "touch", "p1", side="outside")
    bout(6, "receive", "p1", "p2", side="outside", value=8.0)
    bout(8, "touch", "p1", side="outside")
    bout(8, "release", "p1", "p3", side="outside", detail="pass", cause="pressed", value=8.0)
    t = 10 + late
    bout(t, "touch", "p5", side="inside")
    bout(t, "loss", "p1", "p5", side="outside", cause="interception")
    bout(t, "win", "p5", side="inside")
    bout(t, "dead", cause="loss")
    bout.job(t, "p1", "inside")
    bout.job(t, "p5", "outside")
    bout(20, "live", side="outside", other="p2")
    bout(21, "touch", "p2", side="outside")
    bout(21, "possession", "p2", side="outside")
    bout(30, "touch", "p2", side="outside")
    bout(30, "out", "p2", side="")
    bout(30, "loss", "p2", side="outside", cause="out")
    bout(30, "dead", cause="out")
    bout.job(30, "p2", "inside")
    bout.job(30, "p6", "outside")
    bout(35, "live", side="outside", other="p4")
    bout(36, "touch", "p4", side="outside")
    bout(36, "possession", "p4", side="outside")
    names = ("p4", "p3", "p4", "p3")
    for i, (giver, taker) in enumerate(zip(names[:-1], names[1:], strict=True)):
        bout(38 + 4 * i, "release", giver, taker, side="outside", detail="pass", cause="free", value=8.0)
        bout(40 + 4 * i, "touch", taker, side="outside")
        bout(40 + 4 * i, "receive", taker, giver, side="outside", value=8.0)
    bout(48, "threshold", "p3", side="outside", cause="passes", value=3.0)
    bout(48, "score", side="outside", value=1.0, cause="a point")
    bout(59, "release", "p3", "p4", side="outside", detail="pass", cause="free", value=8.0)
    return bout.log()
