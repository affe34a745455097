"""`verify`, `backup`, `restore`: the shop file itself."""

from __future__ import annotations

from tui.cli.answer import DONE, REFUSED, Answer, Document, encoded, of_words
from tui.cli.call import Call
from tui.cli.usage import JSON, READING, Argument, Command, Option


def verify(call: Call) -> Answer:
    from store.file.closed import open_to_others
    from store.file.verify import verify as verify_file
    from tui.words import wrapped

    call.check_reader()
    path = call.terminal.path
    against = call.typed.path("against") if call.typed.has("against") else None
    found = verify_file(path, noted=call.typed.all("noted"), against=against)
    others = open_to_others(path)
    document: Document = {
        "ok": found.ok,
        "events": found.events,
        "seq": found.seq,
        "table": found.table,
        "says": found.says,
        "last": found.last or None,
        "open_to_others": others,
    }
    told = [*wrapped(found.says, 80), *([others] if others else [])] if found.ok else []
    lines = [encoded(document)] if call.as_json else told
    return Answer(lines, () if found.ok else (found.says,), DONE if found.ok else REFUSED)


def backup(call: Call) -> Answer:
    from store.file.backup import backup as backup_file

    target = call.typed.path("FILE")
    found = backup_file(call.shop, target)
    return of_words(
        f"Backup written and verified, {found.events:,} entries: {target}", as_json=call.as_json
    )


def restore(call: Call) -> Answer:
    from store.file.backup import restore as restore_file
    from tui.cli.where import real_shop

    source, target = call.typed.path("FILE"), call.terminal.given or real_shop()
    done = restore_file(source, target, replace=call.typed.has("replace"))
    kept = f" What it replaced is kept: {done.kept}." if done.kept else ""
    return of_words(
        f"{target} is what {source} holds, {done.verdict.events:,} entries.{kept}",
        as_json=call.as_json,
    )


COMMANDS = (
    Command(
        ("verify",), "Checks the ledger's chain, and every table against the ledger.", verify,
        "verify --noted 5a1f60c2b7d93e48",
        (),
        (
            Option("noted", "HASH", "a hash of the last entry that was noted once: must be in it",
                   many=True),
            Option("against", "FILE", "a backup: all its entries must be in it", path=True),
            *READING,
        ),
        more="A ledger that was cut off or written anew as a whole agrees with itself: it is found "
        "only against a backup, or a hash that was noted somewhere else.",
    ),
    Command(
        ("backup",), "Writes a safe copy of the shop file, also while it is in use.", backup,
        "backup shop-2026-10-14.shop", (Argument("FILE", "where to", path=True),), (JSON,),
    ),
    Command(
        ("restore",), "Puts a backup in the place of the shop file, after checking it.", restore,
        "restore shop-2026-10-14.shop", (Argument("FILE", "the backup", path=True),),
        (
            Option("replace", "", "a shop file that is there gives way; it is kept beside"), JSON,
        ),
        in_batch=False,
    ),
)  # fmt: skip
