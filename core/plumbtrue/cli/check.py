"""`plumbtrue check`: houses against their rule packs."""

import click


@click.command()
@click.argument("files", nargs=-1, required=True, metavar="FILE...", type=click.Path())
@click.option(
    "--pack",
    "packs",
    multiple=True,
    metavar="PACK",
    help="Judge by this pack, instead of those that the house's file names. May be repeated.",
)
@click.option(
    "--on", metavar="DATE", type=click.DateTime(["%Y-%m-%d"]), help="Check as of this day.  [default: today]"
)
@click.option(
    "--gate",
    default="before-next-use",
    show_default=True,
    type=click.Choice(["out-of-service", "before-next-use", "next-maintenance", "advisory"]),
    metavar="SEVERITY",
    help="The mildest severity that makes the status other than 0.",
)
@click.option(
    "--waivers",
    multiple=True,
    metavar="FILE",
    type=click.Path(),
    help="Findings that somebody accepted until a day. May be repeated.",
)
@click.option("--no-plugins", is_flag=True, help="Leave plugins of other distributions alone.")
def check(
    files: tuple[str, ...],
    packs: tuple[str, ...],
    on: object,
    gate: str,
    waivers: tuple[str, ...],
    no_plugins: bool,
) -> None:
    """Check houses against their rule packs.

    Status 0: nothing at or above the gate was found; 1: something was; 2: something cannot be read; 3: not
    found, but something at the gate cannot be told, or not everything was looked at.

    Example: plumbtrue check fixtures/demo/house.yaml --on 2026-04-13
    """
    from datetime import date, datetime
    from pathlib import Path

    from plumbtrue.audit.gate import ExitStatus, exit_status, together
    from plumbtrue.audit.house_check import check_house
    from plumbtrue.rules.result import Result
    from plumbtrue.rules.severity import Severity

    day = on.date() if isinstance(on, datetime) else date.today()
    statuses: list[ExitStatus] = []
    for file in files:
        audit = check_house(
            Path(file),
            on=day,
            packs=packs,
            waivers=[Path(one) for one in waivers],
            third_party=not no_plugins,
        )
        for key, verdict in audit.verdicts.items():
            click.echo(f"set {key}: {verdict.state.value}")
        for one in audit.outcomes:
            if one.result in (Result.FINDING, Result.ERROR, Result.UNDETERMINED):
                settle = "; ".join(f"{m.fact} of {m.thing.path} {m.why}" for m in one.missing[:4])
                click.echo(
                    f"{one.thing.path} | {one.rule} | {one.severity.value} | {one.result.value} | {one.message} {settle}"
                )
        for problem in audit.problems:
            click.echo(f"{problem.where}: {problem.what}; {problem.instead}", err=True)
        statuses.append(exit_status(audit, Severity(gate)))
    click.get_current_context().exit(together(statuses))
