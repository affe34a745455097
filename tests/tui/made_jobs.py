"""Five invented jobs, each in another state, on Wednesday at 10:40."""

from __future__ import annotations

from store.views.values import Ahead, AskedWork, Hold, Job, Stretch
from tests.tui.made import INES, NOW, OLU, RUTH, TOMAS, forecast, job, label, on, phase, worked


def van() -> Job:
    made = job(
        "2417",
        "panel van, long",
        phase=phase("4 gearbox in", 2.6, 3.8, ("B-Ines",)),
        people=(INES,),
        stands="rolls",
        labels=(
            label("1 check", "finished", "0.5/0.5"),
            label("2 gearbox out", "finished", "4.4/3.5"),
            label("3 clutch, flywheel", "finished", "1.7/1.6"),
            label("4 gearbox in", "under way", "2.6/3.8"),
            label("5 road test", "to come"),
        ),
        past=(
            worked("1", "Tue 08:20", "Tue 08:50"),
            worked("2", "Tue 08:50", "Tue 14:00", over="Tue 12:45"),
            worked("3", "Tue 14:00", "Tue 16:00"),
            worked("4", "Wed 07:40", "Wed 10:40", going_on=True),
        ),
        ahead=(
            Ahead("labour", "4", NOW, on("Wed 11:55")),
            Ahead("labour", "5", on("Wed 11:55"), on("Wed 13:25")),
        ),
    )
    return forecast(made, "Wed 13:25", "Wed 14:00", "Thu 12:00")


def estate() -> Job:
    hold = Hold("3", "customer", on("Tue 13:35"), on("Wed 16:00"), "Ruth")
    made = job(
        "2409",
        "estate, six-cyl.",
        phase=phase("3 covers off", 6.1, 3.0),
        held="customer",
        hold=hold,
        asked=(AskedWork("stud broken", 3.5, on("Tue 13:35")),),
        stands="fixed",
        flags=("held", "supplement-asked", "promise-at-risk"),
        labels=(
            label("1 check", "finished", "0.5/0.5"),
            label("2 access", "finished", "4.5/4.0"),
            label("3 covers off", "held", "6.1/3.0"),
            label("4 chain, guides", "to come"),
            label("5 refit", "to come"),
            label("6 run-in", "to come"),
        ),
        past=(
            worked("1", "Mon 10:00", "Mon 10:30"),
            worked("2", "Mon 10:30", "Mon 15:40"),
            worked("3", "Mon 15:40", "Mon 16:30"),
            worked("3", "Tue 07:30", "Tue 13:35", over="Tue 09:50"),
            Stretch("held", "3", on("Tue 13:35"), NOW, going_on=True),
        ),
        ahead=(
            Ahead("held", "3", NOW, on("Wed 16:00")),
            Ahead("labour", "4", on("Wed 16:00"), on("Thu 16:30")),
            Ahead("labour", "5", on("Fri 07:30"), on("Fri 12:00")),
            Ahead("labour", "6", on("Fri 12:45"), on("Fri 14:25")),
        ),
    )
    return forecast(made, "Fri 14:25", "Fri 16:25", "Thu 16:00")


def pickup() -> Job:
    made = job(
        "2420",
        "farm pick-up",
        phase=phase("2 bearings, seals", 6.3, 4.0, ("B-Tomas", "B-Olu")),
        people=(TOMAS, OLU),
        stands="rolls",
        flags=("over-estimate", "promise-at-risk"),
        labels=(
            label("1 strip", "finished", "3.0/3.2"),
            label("2 bearings, seals", "under way", "6.3/4.0"),
            label("3 set", "to come"),
            label("4 refit", "to come"),
        ),
        past=(
            worked("1", "Tue 07:30", "Tue 10:50"),
            worked("2", "Tue 10:50", "Tue 16:30", over="Tue 15:40"),
            worked("2", "Wed 07:40", "Wed 10:40", over="Wed 07:40", going_on=True),
        ),
        ahead=(
            Ahead("labour", "2", NOW, on("Wed 12:00")),
            Ahead("labour", "3", on("Wed 12:45"), on("Wed 14:30")),
            Ahead("labour", "4", on("Wed 14:30"), on("Thu 09:50")),
        ),
    )
    return forecast(made, "Thu 09:50", "Thu 11:35", "Thu 10:00")


def saloon() -> Job:
    made = job(
        "2415",
        "small saloon",
        phase=phase("2 head skimmed", 0, 0),
        flags=("supplement-asked",),
        asked=(AskedWork("valve guide", 1.2, on("Tue 15:10")),),
        stands="fixed",
        labels=(
            label("1 strip", "finished", "3.0/3.2"),
            label("2 at the machine shop", "under way"),
            label("3 head on", "to come"),
            label("4 timing", "to come"),
            label("5 road test", "to come"),
        ),
        past=(
            worked("1", "Mon 07:30", "Mon 10:15"),
            Stretch("outwork", "2", on("Mon 13:00"), NOW, going_on=True),
        ),
        ahead=(
            Ahead("outwork", "2", NOW, on("Thu 11:20")),
            Ahead("labour", "3", on("Thu 11:20"), on("Thu 16:30")),
            Ahead("labour", "4", on("Fri 07:30"), on("Fri 08:30")),
            Ahead("labour", "5", on("Fri 08:30"), on("Fri 10:00")),
        ),
    )
    return forecast(made, "Fri 10:00", "Fri 11:25", "Mon+ 10:00")


def camper() -> Job:
    made = job(
        "2426",
        "camper",
        phase=phase("2 gearbox out", 4.3, 4.5),
        flags=("signature-wanted",),
        stands="fixed",
        people=(RUTH,),
        labels=(
            label("1 check", "finished", "0.6/0.6"),
            label("2 gearbox out", "under way", "4.3/4.5"),
            label("3 converter", "to come"),
            label("4 gearbox in", "to come"),
            label("5 fill", "to come"),
        ),
        past=(
            worked("1", "Tue 12:45", "Tue 14:00"),
            worked("2", "Tue 14:00", "Tue 16:20"),
            worked("2", "Wed 07:40", "Wed 10:25"),
            Stretch("held", "2", on("Wed 10:25"), NOW, going_on=True),
        ),
        ahead=(
            Ahead("held", "2", NOW, on("Wed 11:05")),
            Ahead("labour", "3", on("Wed 11:05"), on("Wed 13:25")),
            Ahead("labour", "4", on("Wed 13:25"), on("Thu 10:00")),
            Ahead("labour", "5", on("Thu 10:00"), on("Thu 12:55")),
        ),
    )
    return forecast(made, "Thu 12:55", "Thu 14:45", "Thu 14:00")
