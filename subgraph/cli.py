"""The command: parse, call once, print.

Exit codes: 0 answered, 1 nothing suitable or a referral, 2 the ask could not be understood.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated, Optional

import typer

if TYPE_CHECKING:
    from subgraph.errors import Problem, SubgraphError
    from subgraph.library.compile import Compiled
    from subgraph.library.load import Loaded


def _new_app() -> typer.Typer:
    return typer.Typer(
        add_completion=False,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        no_args_is_help=True,
        help="Movement substitutions of equal stimulus for coaches of mixed-ability classes.",
    )


app = _new_app()
library_app = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="The knowledge base: check it, count it.")
app.add_typer(library_app, name="library")

Several = Optional[list[str]]  # noqa: UP045 - typer reads this form
Without = Annotated[
    Several, typer.Option("--without", help="Equipment that is missing: rig, rope ... (repeat or commas)")
]
Only = Annotated[Several, typer.Option("--only", help="The only equipment on hand: dumbbell, '1 kettlebell', nothing")]
ComplaintFlag = Annotated[
    Several,
    typer.Option("--complaint", help="What complains, and what provokes it: shoulder, shoulder:overhead, knee:impact"),
]
Mood = Annotated[str, typer.Option("--irritability", help="settled, sore or flared")]
LevelFlag = Annotated[Optional[str], typer.Option("--level", help="novice, regular or advanced")]  # noqa: UP045
Cannot = Annotated[Several, typer.Option("--cannot", help="A movement not owned: 'kip swing'")]
Owns = Annotated[Several, typer.Option("--owns", help="A movement owned: 'strict pull-up' (repeat or commas)")]
Limits = Annotated[
    Several,
    typer.Option(
        "--limit",
        help="no-jumping, no-running, no-floor-work, low-ceiling, small-space, quiet, seated, one-arm, standing-only",
    ),
]
IntentFlag = Annotated[Optional[str], typer.Option("--intent", help="skill, strength, conditioning or warm-up")]  # noqa: UP045
Says = Annotated[str, typer.Option("--says", help="What the member says, in plain words")]
LoadFlag = Annotated[str, typer.Option("--load", help="Load as written: 43kg, 95lb")]
HouseFlag = Annotated[
    Optional[str],  # noqa: UP045
    typer.Option("--house", help="A gym's own folder laid over the library; 'none': the library alone"),
]
Explain = Annotated[bool, typer.Option("--explain", help="Which evidence carries how much of each amount")]
Json = Annotated[bool, typer.Option("--json", help="One JSON object on standard output")]


_ASK = {"ignore_unknown_options": True}  # "-5 pull-ups" is an ask to refuse in words, not a flag


@app.command("options", context_settings=_ASK)
def options_command(
    ask: Annotated[str, typer.Argument(help='What is on the board: "15 toes-to-bar"')],
    without: Without = None,
    only: Only = None,
    complaint: ComplaintFlag = None,
    irritability: Mood = "sore",
    level: LevelFlag = None,
    cannot: Cannot = None,
    limit: Limits = None,
    intent: IntentFlag = None,
    says: Says = "",
    load: LoadFlag = "",
    top: Annotated[int, typer.Option("--top", min=1, max=20, help="How many options")] = 3,
    explain: Explain = False,
    house: HouseFlag = None,
    json: Json = False,
) -> None:
    """What instead, how many, and why.

    Example: subgraph options "15 toes-to-bar" --without rig
    """

    def run() -> int:
        from subgraph.notation.ask import read_ask
        from subgraph.notation.situation import read_situation
        from subgraph.options import options

        base = _base(house)
        situation = read_situation(
            base,
            without=without or (),
            only=only,
            complaints=complaint or (),
            irritability=irritability,
            level=level,
            cannot=cannot or (),
            limits=limit or (),
            intent=intent,
            says=says,
        )
        read = read_ask(ask, base, load=load)
        answer = options(base.library, read.ask, situation.today, top=top, says=situation.says)
        notes = (*read.notes, *situation.notes)
        if json:
            from subgraph.show.data import answer_data, encode

            data = answer_data(base.library, answer, explain=explain)
            data["read"] = notes
            print(encode(data))
        else:
            from subgraph.show.text import Style, answer_text

            print(answer_text(base.library, answer, situation.today, notes, Style.for_output(), explain=explain))
        return 0 if answer.outcome in ("options", "as-written") else 1

    _answer(run, json)


@app.command("why-not", context_settings=_ASK)
def why_not_command(
    ask: Annotated[str, typer.Argument(help='What is on the board: "15 toes-to-bar"')],
    name: Annotated[str, typer.Argument(help="The movement asked about")],
    without: Without = None,
    only: Only = None,
    complaint: ComplaintFlag = None,
    irritability: Mood = "sore",
    level: LevelFlag = None,
    cannot: Cannot = None,
    limit: Limits = None,
    intent: IntentFlag = None,
    says: Says = "",
    load: LoadFlag = "",
    house: HouseFlag = None,
    json: Json = False,
) -> None:
    """Why a movement is not offered, or how far down it ranks.

    Example: subgraph why-not "15 toes-to-bar" "v-up" --complaint "low back:bending"
    """

    def run() -> int:
        from subgraph.notation.ask import movement_named, read_ask
        from subgraph.notation.situation import read_situation
        from subgraph.options import why_not
        from subgraph.referral import refer

        base = _base(house)
        situation = read_situation(
            base,
            without=without or (),
            only=only,
            complaints=complaint or (),
            irritability=irritability,
            level=level,
            cannot=cannot or (),
            limits=limit or (),
            intent=intent,
            says=says,
        )
        read = read_ask(ask, base, load=load)
        told = [t.complaint for t in situation.today.complaints if t.complaint]
        referral, _ = refer(base.library, [situation.says], told)
        movement = movement_named(name, base)
        if referral:
            message = {
                "movement": movement.id,
                "name": movement.name,
                "refer": {"level": referral.level, "text": referral.text},
            }
            if json:
                from subgraph.show.data import encode

                print(encode(message))
            else:
                print(f"{movement.name}: nothing is offered today. Stop: {referral.text} ({referral.because})")
            return 1
        found = why_not(base.library, read.ask, situation.today, movement.id)
        if json:
            from subgraph.show.data import encode, why_not_data

            print(encode(why_not_data(found)))
        else:
            from subgraph.show.text import Style, why_not_text

            print(why_not_text(found, base.library, Style.for_output()))
        return 0

    _answer(run, json)


@app.command("read")
def read_command(
    board: Annotated[str, typer.Argument(help="File with the board's text; - for standard input")] = "-",
    units: Annotated[Optional[str], typer.Option("--units", help="Loads without a unit: kg or lb")] = None,  # noqa: UP045
    house: HouseFlag = None,
    json: Json = False,
) -> None:
    """The board's text as understood, every line accounted for.

    Example: subgraph read board.txt
    """

    def run() -> int:
        from subgraph.notation.paste import board_text, unit_of_loads
        from subgraph.notation.read import read_board

        reading = read_board(board_text(board), _base(house), units=unit_of_loads(units))
        if json:
            from subgraph.show.data import encode, reading_data

            print(encode(reading_data(reading)))
        else:
            from subgraph.show.board import reading_text
            from subgraph.show.text import Style

            print(reading_text(reading, Style.for_output()))
        return 0

    _answer(run, json)


@app.command("adapt")
def adapt_command(
    board: Annotated[str, typer.Argument(help="File with the board's text; - for standard input")] = "-",
    without: Without = None,
    only: Only = None,
    complaint: ComplaintFlag = None,
    irritability: Mood = "sore",
    level: LevelFlag = None,
    cannot: Cannot = None,
    limit: Limits = None,
    intent: IntentFlag = None,
    says: Says = "",
    units: Annotated[Optional[str], typer.Option("--units", help="Loads without a unit: kg or lb")] = None,  # noqa: UP045
    standard: Annotated[
        int, typer.Option("--standard", min=1, max=2, help="Which of two numbers is the member's: 1 or 2")
    ] = 1,
    versions: Annotated[bool, typer.Option("--versions", help="The columns beside the board, for the class")] = False,
    explain: Annotated[bool, typer.Option("--explain", help="Why each choice")] = False,
    house: HouseFlag = None,
    json: Json = False,
) -> None:
    """The whole workout for one member.

    Example: subgraph adapt board.txt --complaint shoulder:overhead --without rig
    """

    def run() -> int:
        from subgraph.adapt import adapt
        from subgraph.adapt.versions import versions as columns_of
        from subgraph.notation.paste import board_text, unit_of_loads
        from subgraph.notation.read import read_board
        from subgraph.notation.situation import read_situation
        from subgraph.show.adapted import adapted_text, versions_text
        from subgraph.show.adapted_data import adapted_data, versions_data
        from subgraph.show.data import encode
        from subgraph.show.text import Style
        from subgraph.today import Today

        base = _base(house)
        situation = read_situation(
            base,
            without=without or (),
            only=only,
            complaints=complaint or (),
            irritability=irritability,
            level=level,
            cannot=cannot or (),
            limits=limit or (),
            intent=intent,
            says=says,
        )
        text = board_text(board)
        reading = read_board(text, base, units=unit_of_loads(units))
        adapted = adapt(base.library, reading, situation.today, says=situation.says, standard=standard - 1)
        if versions and not adapted.refer:  # a red flag comes first, whatever was asked for
            if situation.today != Today():
                print("subgraph: --versions is for the class; what was told of one member is left out", file=sys.stderr)
            columns = columns_of(base.library, reading, standard=standard - 1)
            if json:
                print(encode(versions_data(base.library, text, columns)))
            else:
                print(versions_text(base.library, text, columns, Style.for_output()))
            return 0
        if json:
            print(encode({**adapted_data(base.library, text, adapted), "read": situation.notes}))
        else:
            style = Style.for_output()
            print(adapted_text(base.library, text, adapted, situation.today, situation.notes, style, explain=explain))
        return 0 if adapted.outcome in ("adapted", "as-written") else 1

    _answer(run, json)


@app.command("movement")
def movement_command(
    name: Annotated[str, typer.Argument(help="A movement by any usual name: T2B")],
    house: HouseFlag = None,
    json: Json = False,
) -> None:
    """One record with its links, ratios, demands and sources.

    Example: subgraph movement T2B
    """

    def run() -> int:
        from subgraph.notation.ask import movement_named

        base = _base(house)
        movement = movement_named(name, base)
        if json:
            from subgraph.show.data import encode, movement_data

            print(encode(movement_data(base.library, movement)))
        else:
            from subgraph.show.text import Style, movement_text

            print(movement_text(base.library, movement, Style.for_output()))
        return 0

    _answer(run, json)


@app.command("progression", context_settings=_ASK)
def progression_command(
    name: Annotated[Optional[str], typer.Argument(help="The goal; leave it out for what is one rung away")] = None,  # noqa: UP045
    owns: Owns = None,
    without: Without = None,
    only: Only = None,
    complaint: ComplaintFlag = None,
    irritability: Mood = "sore",
    level: LevelFlag = None,
    cannot: Cannot = None,
    limit: Limits = None,
    says: Says = "",
    top: Annotated[int, typer.Option("--top", min=1, help="Without a goal: how many to print")] = 20,
    house: HouseFlag = None,
    json: Json = False,
) -> None:
    """What stands between a member and a movement; without one, what is one rung away.

    Example: subgraph progression "ring muscle-up" --owns "strict pull-up, bar dip"
    """

    def run() -> int:
        from subgraph.errors import AskError
        from subgraph.notation.ask import read_ask
        from subgraph.notation.situation import read_owned, read_situation
        from subgraph.progression import one_rung_away, progression
        from subgraph.referral import refer
        from subgraph.show.data import encode
        from subgraph.show.ladder import progression_data, progression_text, reach_data, reach_text
        from subgraph.show.text import Style

        base = _base(house)
        situation = read_situation(
            base,
            without=without or (),
            only=only,
            complaints=complaint or (),
            irritability=irritability,
            level=level,
            cannot=cannot or (),
            limits=limit or (),
            says=says,
        )
        owned, notes = read_owned(owns or (), base)
        notes = [*notes, *situation.notes]
        today, style = situation.today, Style.for_output()
        if name is not None:
            read = read_ask(name, base)
            found = progression(base.library, read.ask, today, owned, says=situation.says)
            said = [n for n in read.notes if not (read.ask.assumed and n.startswith("no amount given"))]
            notes = [*said, *notes]
            if json:
                print(encode({**progression_data(base.library, found), "read": notes}))
            else:
                print(progression_text(base.library, found, today, notes, style))
            return 1 if found.outcome == "refer" else 0
        if not owned:
            raise AskError("there is no goal and nothing that is owned", mend="give a movement, or --owns MOVEMENT")
        told = [t.complaint for t in today.complaints if t.complaint]
        referral, _ = refer(base.library, [situation.says], told)
        if referral:
            message = {"outcome": "refer", "refer": {"level": referral.level, "text": referral.text}, "next": []}
            print(encode(message) if json else f"Stop: {referral.text} ({referral.because})")
            return 1
        reach = one_rung_away(base.library, today, owned)
        if json:
            print(encode({**reach_data(reach), "outcome": "next", "read": notes}))
        else:
            print(reach_text(base.library, reach, today, top, notes, style))
        return 0 if reach.nearby else 1

    _answer(run, json)


@library_app.command("check")
def check_command(
    folder: Annotated[Optional[str], typer.Argument(help="Library folder; the embedded one where left out")] = None,  # noqa: UP045
    house: HouseFlag = None,
    json: Json = False,
) -> None:
    """Lint the structure and the sense of all records.

    Example: subgraph library check
    """

    def run() -> int:
        import os.path
        from pathlib import Path

        from subgraph.checks import check_folder
        from subgraph.errors import AskError
        from subgraph.library.where import house_folder, library_folder

        where = Path(folder) if folder else library_folder()
        if not os.path.isdir(where):  # unlike Path.is_dir, no error for a name beyond all lengths
            raise AskError(
                f"there is no folder '{str(folder)[:60]}'", mend="give the folder that holds vocabulary.yaml"
            )
        # A library folder given by name is checked for itself; the user's own house is not laid over it unasked.
        over = house_folder("none" if folder and house is None else house)
        laid = over[0] if over else None
        if laid and not os.path.isdir(laid):
            raise AskError(f"there is no house folder '{laid}'", mend="make one with `subgraph library new-house DIR`")
        problems = check_folder(where, laid)
        errors = sum(p.severity == "error" for p in problems)
        if json:
            from subgraph.show.data import encode, problems_data

            print(encode({**problems_data(problems), "house": laid and {"folder": str(laid), "in_force": not errors}}))
        else:
            for problem in problems:
                print(f"{problem.severity}: {problem}")
            warnings = sum(p.severity == "warning" for p in problems)
            notes = len(problems) - errors - warnings
            print(f"{errors} errors, {warnings} warnings" + (f", {notes} notes" if notes else ""))
            if laid:
                state = "not in force: nothing of it is used until the errors are mended" if errors else "in force"
                print(f"house {laid}: {state}")
        return 2 if errors else 0

    _answer(run, json)


@library_app.command("stats")
def stats_command(
    gaps: Annotated[
        bool, typer.Option("--gaps", help="Good options per family and situation, so that holes show (takes a minute)")
    ] = False,
    family: Annotated[Several, typer.Option("--family", help="With --gaps: these families alone")] = None,
    situation: Annotated[Several, typer.Option("--situation", help="With --gaps: these situations alone")] = None,
    house: HouseFlag = None,
    json: Json = False,
) -> None:
    """Count what the knowledge base holds, and list what a house lays over it.

    Example: subgraph library stats
    """

    def run() -> int:
        if gaps:
            return _gaps(_base(house), family, situation, json)
        from subgraph.library.counts import counts

        library = _base(house).library
        found = counts(library)
        if json:
            from subgraph.show.data import encode, house_data

            print(encode({**dict(found), "house": house_data(library)}))
        else:
            from subgraph.show.text import Style, counts_text, house_text

            style = Style.for_output()
            print("\n".join([counts_text(found, style), *house_text(library, style)]))
        return 0

    _answer(run, json)


@library_app.command("new-house")
def new_house_command(folder: Annotated[str, typer.Argument(help="A new or empty folder")], json: Json = False) -> None:
    """Write a commented template of a gym's own folder.

    Example: subgraph library new-house my-gym
    """

    def run() -> int:
        from pathlib import Path

        from subgraph.library.house import new_house

        written = new_house(Path(folder))
        if json:
            from subgraph.show.data import encode

            print(encode({"folder": folder, "files": [str(path) for path in written]}))
        else:
            for path in written:
                print(path)
            print(f"Fill them in, then run: subgraph library check --house {folder}")
        return 0

    _answer(run, json)


def _base(house: str | None) -> Compiled:
    """The library, with the house in force over it; `SUBGRAPH_HOUSE` or the user's own where none is told."""
    from subgraph.library.where import house_folder

    if (over := house_folder(house)) is None:
        from subgraph.library.compile import compiled

        return compiled()
    from subgraph.library.house import compiled_with_house

    return compiled_with_house(over[0], _faults, asked_for=over[1])


def _faults(loaded: Loaded) -> list[Problem]:
    from subgraph.checks import errors_of  # only when a house is new or has changed

    return errors_of(loaded)


def _gaps(base: Compiled, families: list[str] | None, situations: list[str] | None, json: bool) -> int:
    """Print the matrix of good options; on a terminal, say what is being counted."""
    from subgraph.gaps import gaps
    from subgraph.show.matrix import gaps_data, gaps_text

    tell = (lambda name: print(f"counting: {name}", file=sys.stderr)) if sys.stderr.isatty() else None
    found = gaps(base, families=families, situations=situations, tell=tell)
    if json:
        from subgraph.show.data import encode

        print(encode(gaps_data(found)))
    else:
        from subgraph.show.text import Style

        print(gaps_text(base.library, found, Style.for_output()))
    return 0


def _answer(run: Callable[[], int], json: bool) -> None:
    """Run a command; one line on standard error for what a person can mend."""
    from subgraph.errors import SubgraphError

    try:
        code = run()
    except SubgraphError as error:
        _tell(error, json)
        raise typer.Exit(2) from None
    except BrokenPipeError:
        raise typer.Exit(0) from None
    if code:
        raise typer.Exit(code)


def _tell(error: SubgraphError, json: bool) -> None:
    if json:
        from subgraph.show.data import encode, error_data

        print(encode(error_data(error)))
    print(f"subgraph: {error}", file=sys.stderr)


_UsageError: type[Exception] = typer.BadParameter.__mro__[1]  # the parent of all that is wrong with a command line


def _app_for(args: list[str]) -> typer.Typer:
    """The part of the command line that these arguments can mean; building all of it takes a tenth of an ask."""
    commands = [c for c in app.registered_commands if c.name == args[0]]
    groups = [g for g in app.registered_groups if g.name == args[0]]
    if not commands and not groups:
        return app
    part = _new_app()
    part.registered_commands, part.registered_groups = commands, groups
    part.callback()(lambda: None)  # with a callback a single command keeps its name
    return part


def run(args: list[str]) -> int:
    """Carry out a command.

    Parameters
    ----------
    args : list of str
        What was typed after the command's name.

    Returns
    -------
    int
        Exit code, as in the head of this module.
    """
    if not args or args == ["library"]:
        args = [*args, "--help"]
    try:
        return _app_for(args)(args, prog_name="subgraph", standalone_mode=False) or 0
    except _UsageError as error:
        from subgraph.show.usage import usage_error

        _tell(usage_error(error, args), "--json" in args)
        return 2


if __name__ == "__main__":
    sys.exit(run(sys.argv[1:]))
