"""Sentences of the actions name commands; at a screen they name the keys that do the same."""

from __future__ import annotations

import re
from functools import partial

from tui.keys import filled

WHERE = r"[0-9]+(?:\.[0-9]+[a-z]*)?(?:\.[0-9]+)?"
SAID: tuple[tuple[str, str], ...] = (
    (
        rf"When it can go on: hoistbook release {WHERE}\.",
        "When it can go on: {bay.hold} on the bay, {floor.release} on the floor.",
    ),
    (
        rf"Open it again first: hoistbook reopen {WHERE}\.",
        "Open it again first: {job.phase} on its card.",
    ),
    (
        rf"Open ({WHERE}) again with `hoistbook reopen` instead\.",
        r"Open \1 again: {job.phase} on its card.",
    ),
    (rf"When it is over: hoistbook finish {WHERE}\.", "When it is over: {job.phase} on its card."),
    (
        rf"Type them first: hoistbook limits {WHERE} [^.]*(?:\.(?!$)[^.]*)*\.",
        "{bay.sign} asks for them first.",
    ),
    (r", or leave it out with `hoistbook skip`", ", or leave it out: {job.phase} on its card"),
    (r": say why with --why\.", "."),
    (r"let a foreman sign it with --as-is", "let a foreman sign it as it is"),
    (r"Sign it without --as-is", "Sign it plainly"),
    (r"Start one: hoistbook clock on JOB\.PHASE\.", "{bay.clock} starts one."),
    (r"Start a clock: hoistbook clock on JOB\.PHASE\.", "{bay.clock} starts a clock."),
    (r"Come back: hoistbook clock back\.", "{bay.away} brings back."),
    (r"Clock off there first, or use `clock over`\.", "{bay.over} goes over."),
    (r"Say when: hoistbook clock off --at \S+\.", "{bay.clock} asks when."),
    (r"Say a new end with --until, or release it\.", "Release it, or say another end."),
    (r"Put one right: hoistbook correct \d+\.", "Ask the foreman to put one right."),
    (r"Use `hoistbook correct`\.", "Ask the foreman to put it right."),
    (r"move it with `hoistbook move`", "{floor.move} moves it"),
    (
        rf"Bring it in: hoistbook move {WHERE} --lift CODE\.",
        "Call it in: {floor.call} on the floor.",
    ),
    (
        r"let a foreman return it: hoistbook lift return \S+?\.",
        "let a foreman return it: {floor.service}.",
    ),
    (
        r"Set it: hoistbook people pin (\S+?)\.",
        r"Set it at the command line: hoistbook people pin "
        r"\1.",
    ),
    (r"Type it when asked, or use --pin-stdin\.", "Type it when asked."),
    (r"See (?:them|the numbers) with `hoistbook \w+`\.", "The floor shows them: {bay.floor}."),
    (r": --answer with one of: ", ": "),
    (
        r"See (?:the list|it|who does what): hoistbook next(?: \w+)?\.",
        "{floor.lists} on the floor shows the lists.",
    ),
    (
        rf"Say first what ({WHERE}) is about(?:, and the family)?: "
        rf"hoistbook work {WHERE}[^.]*\.",
        r"Say first what \1 is about: {desk.work} on the desk.",
    ),
    (r", or choose the vehicle: hoistbook work\.", ", or choose the vehicle: {desk.work}."),
    (rf"Move it with hoistbook move {WHERE}\.", "{floor.move} on the floor moves it."),
    (rf"When it is: hoistbook arrive {WHERE}\.", "When it is: {desk.arrived} on the desk."),
    (rf"Next: hoistbook quote {WHERE}\.", "Next: {desk.quote} quotes it."),
    (r": say (which|why), --text TEXT\.", r": say \1."),
    (r" says the ceiling: --ceiling MONEY\.", " says the ceiling."),
    (r"A ceiling goes with --basis ceiling\.", "A ceiling goes with an estimate that has one."),
    (
        rf"When it is here again: hoistbook outwork back {WHERE}\.",
        "When it is here again: {job.outwork} on its card.",
    ),
    (rf"Send it: hoistbook outwork send {WHERE}\.", "Send it: {job.outwork} on its card."),
    (r"then approve with --ceiling MONEY\.", "then approve it with that: {job.answer}."),
    (r": say whose with --by, how with --means\.", ": say whose, and how it came."),
    (rf"See what was advised: hoistbook advice {WHERE}\.", "Its card shows what was advised."),
    (r" takes: --hours H\.", " takes."),
    (r"Say in which phase it is done: --phase\.", "Say in which phase it is done."),
    (
        rf"is under way: hoistbook hold {WHERE} --reason parts\.",
        "is under way: {job.hold} on its card holds it.",
    ),
    (r"List them: hoistbook parts add \d+ \"TEXT\"\.", "{parts.add} lists one."),
    (r"Send it back, or hoistbook parts drop \d+\.", "Send it back, or say it is not needed."),
    (
        r"Where it is not wanted any more: hoistbook hire cancel \S+\.",
        "Where it is not wanted any more: {parts.choose} on it.",
    ),
    (r"Ask for it first: hoistbook hire ask [^\"]*\"…\"\.", "Ask for it first."),
    (r"When that came: hoistbook hire mend \S+\.", "When that came: {tools.mended} on its line."),
    (r"has not come yet: hoistbook hire receive \S+\.", "has not come yet."),
    (
        r"Hire it all the same with --why TEXT(?:, or --job another)?\.",
        "With a reason it is hired all the same.",
    ),
    (r"Hire a second one with --why TEXT\.", "With a reason a second one is hired."),
    (r"(costs a day at .+): --day MONEY\.", r"\1."),
    (r"(costs to buy): --buy MONEY\.", r"\1."),
    (
        r"(Say first how .+ counts): hoistbook supplier .+ --cut-off 15:30\.",
        r"\1: {tools.terms} on the special tools.",
    ),
    (
        r"when it comes, with hoistbook hire receive \S+ --valid-until\.",
        "when it comes: {tools.received}.",
    ),
    (
        r"To begin without, a foreman: hoistbook hire let \S+ --why TEXT\.",
        "A foreman's word lets it begin.",
    ),
    (
        r"write its date down: hoistbook kit date \S+ --until DATE --source \"…\"\.",
        "write its date down: {tools.valid} on the special tools.",
    ),
    (r"was sent back: hoistbook hire return \S+ comes first\.", "was sent back."),
)
"""What an action says, and what a screen says instead."""
"""Each with the keys as they are built in; a settings file may have moved them."""
RULES = tuple((re.compile(said), instead) for said, instead in SAID)


def in_keys(text: str) -> str:
    """The sentence as a screen says it."""
    for said, instead in RULES:
        text = said.sub(partial(_with_keys, instead), text)
    return text


def _with_keys(instead: str, found: re.Match[str]) -> str:
    return found.expand(_sentence(instead))


def _sentence(instead: str) -> str:
    named = filled(instead)
    return f"The {named[4:]}" if named.startswith("the ") else named
