"""The plainest part of what was learned: how often. Read without any array."""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from store.file.learned.cases import Cases, digest, plain
from store.file.learned.kept import Part
from store.rules.forks import Question, odds

NAME, VERSION = "seen", "2"
BOOK_ONLY = "work book only"


@dataclass(frozen=True, slots=True)
class Seen:
    """Counts.

    Attributes:
        records: finished phases that taught.
        kinds: jobs, by their operations.
        phases: jobs in which a phase was done, by its code and by family.
        answers: how often each answer was given, by codes of phase, step and answer.
    """

    records: int = 0
    kinds: Mapping[str, int] = field(default_factory=dict[str, int])
    phases: Mapping[str, Mapping[str, int]] = field(default_factory=dict[str, Mapping[str, int]])
    answers: Mapping[str, Mapping[str, Mapping[str, int]]] = field(
        default_factory=dict[str, Mapping[str, Mapping[str, int]]]
    )

    def jobs(self, phase: str) -> int:
        """Jobs in which a phase was done here."""
        return sum(self.phases.get(phase, {}).values())

    def on(self, phase: str, family: str) -> int:
        """Those of them on a family."""
        return self.phases.get(phase, {}).get(family, 0)

    def kind(self, template: str) -> str:
        """Where the hours of a whole job come from, in plain words."""
        jobs = self.kinds.get(template, 0)
        if jobs:
            return f"learned from {_jobs(jobs)} of this kind"
        return "learned from other work here"

    def source(self, phase: str, family: str) -> str:
        """Where a phase's hours come from, in plain words."""
        if not self.records:
            return BOOK_ONLY
        jobs = self.jobs(phase)
        if not jobs:
            return "work book, and how this shop works"
        own = self.on(phase, family)
        return f"from {_jobs(jobs)} of this kind, {own or 'none'} on this family"

    def chances(self, asked: Question) -> Sequence[float]:
        """Odds of each answer to a question."""
        return odds(asked, self.answers.get(asked.phase, {}).get(asked.step, {}))


def _jobs(count: int) -> str:
    return f"{count} job" if count == 1 else f"{count} jobs"


NOTHING = Seen()


def learn(cases: Cases, known: Part | None) -> Part:
    """Count."""
    mark = digest(cases.records, cases.answers)
    if known is not None and known.digest == mark:
        return Part(NAME, VERSION, cases.at, known.cases, mark)
    phases: dict[str, Counter[str]] = defaultdict(Counter)
    for phase, family, _ in {(one.phase, one.variant, one.job) for one in cases.records}:
        phases[phase][family] += 1
    kinds = Counter(template for template, _ in {(one.template, one.job) for one in cases.records})
    answers: dict[str, dict[str, dict[str, int]]] = defaultdict(lambda: defaultdict(dict))
    for one in cases.answers:
        answers[one.phase][one.step][one.answer] = one.times
    many = len(cases.records)
    content = plain({"records": many, "kinds": kinds, "phases": phases, "answers": answers})
    return Part(NAME, VERSION, cases.at, many, mark, content)


def read(part: Part | None) -> Seen:
    """Return what was counted; nothing where it was not, or cannot be read."""
    if part is None or part.content is None:
        return NOTHING
    try:
        content = json.loads(part.content)
        return Seen(
            int(content["records"]), content["kinds"], content["phases"], content["answers"]
        )
    except (ValueError, LookupError, TypeError):
        return NOTHING
