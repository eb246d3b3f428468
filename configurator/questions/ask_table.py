"""What the counter asks, in its order: one record for a question, its flag, its help and its key in an answers file.

Nothing heavy is imported here: the command line makes its flags from this table before anything else is loaded.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

DEFAULT: Final = "default"
"""What an answer says where the question was passed by: its default is taken."""

UNMEASURED: Final = "not measured yet"
OWN_PATTERN: Final = "own"
ANY: Final = "*"
"""In a condition: whatever was said, but not the default."""

Reads = Literal["text", "figure", "standstill", "number", "one", "some", "names", "stretches", "offsets", "own"]
Group = Literal["", "gaps", "obstacles"]

SEVERAL: Final = ("some", "names", "own", "stretches", "offsets")
"""What reads a list of words, with commas between."""


@dataclass(frozen=True)
class Question:
    """One question.

    `of`: the list of choices or the longest text that `reads` needs, nothing of a figure: what that may be says the
    brief, at `path`.
    `path`: its keys in a brief; none where it only decides what else is asked. `default`: in words, what is taken where
    it is passed by; without one it must be answered. `when`: answers that must have been given for it to be asked, each
    of them one of the words. `each`: asked once for each name that was given to this question. `unmeasured`: a gap's
    size may be unknown yet.
    """

    key: str
    topic: str
    words: str
    explains: str
    reads: Reads
    of: str = ""
    path: tuple[str, ...] = ()
    default: str | None = None
    when: tuple[tuple[str, tuple[str, ...]], ...] = ()
    each: Group = ""
    unmeasured: bool = False


_MEASURED: Final = (("gaps", (ANY,)),)
_EXCHANGER: Final = (("gap-takes", ("exchanger",)),)

QUESTIONS: Final = (
    Question("name", "car and engine", "What shall this brief be called?",
        "A name for the car or the customer. It is printed and decides nothing.", "text", "200", ("brief",)),
    Question("power", "car and engine", "How much power does the engine make at full boost?",
        "At the crank, with the boost that it will run: 230 kW, 310 hp, 313 PS.", "figure", "",
        ("engine", "power")),
    Question("fuel", "car and engine", "Which fuel?",
        "It decides how much air goes with each kilogram of fuel.", "one", "fuels", ("engine", "fuel")),
    Question("charger", "car and engine", "Which kind of charger?",
        "It decides how hot the charge gets and where boost is held.", "one", "chargers", ("engine", "charger")),
    Question("boost", "car and engine", "How much boost at the throttle?",
        "Gauge pressure behind the core, as a boost gauge reads: 1.4 bar, 20 psi.", "figure", "",
        ("engine", "boost")),
    Question("displacement", "car and engine", "What is the engine's displacement?",
        "Only to check power against boost: 1.6 L, 1598 cc. It changes no kit.", "figure", "",
        ("engine", "displacement"), "power and boost are not checked against each other"),
    Question("rev-limit", "car and engine", "Where is the rev limit?",
        "For the same check, with the displacement: 7400 rpm.", "figure", "", ("engine", "rev_limit"),
        "power and boost are not checked against each other", (("displacement", (ANY,)),)),
    Question("charger-outlet", "car and engine", "What size is the charger's outlet?",
        "The outside of the pipe that a coupler goes over, to the core's inlet: 57 mm.", "figure", "",
        ("engine", "charger_outlet"), "its joint is not checked"),
    Question("charger-outlets", "car and engine", "How many outlets of that size has the charger?",
        "1 or 2. Two go into two cores, or through a wye into one.", "one", "outlets", ("engine", "charger_outlets"),
        "1", (("charger-outlet", (ANY,)),)),
    Question("throttle", "car and engine", "What size is the pipe to the throttle?",
        "The outside of the pipe that a coupler goes over, from the core's outlet: 64 mm.", "figure", "",
        ("engine", "throttle"), "its joint is not checked"),
    Question("driving", "driving", "How is the car driven?",
        "It decides more than any part: a pull, a climb and a session are different kits.", "one", "driving",
        ("driving",)),
    Question("stretches", "driving", "Which stretches, one after another?",
        "Each as time, share of full power, road speed, with commas between: 20 s 80 % 65 km/h, 20 s 20 % 45 km/h.",
        "stretches",
        when=(("driving", (OWN_PATTERN,)),)),
    Question("total", "driving", "How long does it go on?",
        "The stretches are repeated for so long: 12 min.", "figure", "", when=(("driving", (OWN_PATTERN,)),)),
    Question("air", "place", "How hot is the hottest day that it has to work on?",
        "Air in the shade: 24 degC, 75 degF.", "figure", "", ("site", "air")),
    Question("humidity", "place", "How humid is the air on that day?",
        "It gives the dew point of the charge under boost: 50 %.", "figure", "", ("site", "humidity"),
        "the dew point of the charge is not told"),
    Question("altitude", "place", "How high above the sea?",
        "The highest place where it is driven hard: 900 m, 3000 ft.", "figure", "", ("site", "altitude"),
        "sea level"),
    Question("coldest", "place", "How cold is the coldest night that the car stands in?",
        "It decides the antifreeze: -5 degC.", "figure", "", ("site", "coldest"),
        "5 degC: no antifreeze but for a colder day"),
    Question("aim", "aim", "What shall the kit keep: a ceiling, or a rise over the outside air?",
        "Both are for the charge at the core's outlet.", "one", "aims"),
    Question("ceiling", "aim", "How warm may the charge be at the core's outlet?",
        "The charge at the core's outlet stays at or under this: 80 degC, 175 degF.", "figure", "",
        ("aim", "charge_air"), when=(("aim", ("ceiling",)),)),
    Question("above-air", "aim", "How far above the outside air may the charge be?",
        "The charge stays no further above the outside air than this: 35 K.", "figure", "",
        ("aim", "above_air"), when=(("aim", ("above-air",)),)),
    Question("charge-loss", "aim", "How much of the boost may core and pipes take?",
        "At full flow: 12 kPa.", "figure", "", ("aim", "charge_loss"), "no limit"),
    Question("after", "aim", "Shall it be kept on a restart after a standstill? After how long?",
        "The car is driven, stands, and is started again: 5 min standstill.", "standstill", "",
        ("aim", "after"), "the worst moment of the drive counts"),
    Question("after-run", "aim", "How long do the car's pump and fan go on after key-off?",
        "Only where the car does that by itself: 3 min.", "figure", "", ("after_run",),
        "they stop at key-off", (("after", (ANY,)),)),
    Question("price", "limits", "What may the kit cost?",
        "A bare number, in the money of the catalogue: 1400.", "number", path=("limits", "price"),
        default="no limit"),
    Question("mass", "limits", "What may the kit weigh, dry?",
        "Without its coolant: 16 kg, 35 lb.", "figure", "", ("limits", "mass_dry"), "no limit"),
    Question("current", "limits", "How much current may it draw?",
        "Pump and fans together: 20 A.", "figure", "", ("limits", "current"), "no limit"),
    Question("currency", "limits", "Which currency stands behind prices?",
        "It is printed, nothing is converted: EUR.", "text", "8", ("currency",), "none is printed"),
    Question("gaps", "gaps", "Which gaps are there for parts? Name each.",
        "Names of your own with commas between: nose, bulkhead, side. Or: not measured yet.", "names", "gaps",
        unmeasured=True),
    Question("gap-takes", "gaps", "What goes there?",
        "Which kinds of parts may sit there: core, exchanger, pump, reservoir, fan.", "some", "rigid", ("takes",),
        None, _MEASURED, "gaps"),
    Question("gap-wide", "gaps", "How wide is it?",
        "From the car's left to its right, at the narrowest: 460 mm. Or: not measured yet.", "figure", "",
        ("wide",), None, _MEASURED, "gaps", True),
    Question("gap-high", "gaps", "How high is it?",
        "From floor to top, at the lowest: 150 mm. Or: not measured yet.", "figure", "", ("high",), None,
        _MEASURED, "gaps", True),
    Question("gap-deep", "gaps", "How deep is it?",
        "From the car's front to its back, at the shallowest: 60 mm. Or: not measured yet.", "figure", "",
        ("deep",), None, _MEASURED, "gaps", True),
    Question("gap-open", "gaps", "Which sides are open?",
        "Walls that hoses, fittings and hands may go through: front, back, left, right, up, down.", "some", "sides",
        ("open",), "all sides are closed", _MEASURED, "gaps"),
    Question("gap-air", "gaps", "What air comes to an exchanger there?",
        "ram: a share of road speed. fan: what a fan draws. face-speed: measured. none: no air.", "one", "airs", (),
        "not known: 15 % of road speed, as behind a production grille", (*_MEASURED, *_EXCHANGER), "gaps"),
    Question("gap-ram-share", "gaps", "Which share of road speed goes through its face?",
        "Production grilles give 10 to 20 %, a sealed duct 25 to 40 % (common practice, no source).", "figure",
        "", ("air", "share"), None, (*_MEASURED, *_EXCHANGER, ("gap-air", ("ram",))), "gaps"),
    Question("gap-face-speed", "gaps", "How fast is the air before its face?",
        "As measured: 5 m/s.", "figure", "", ("air", "face_speed"), None,
        (*_MEASURED, *_EXCHANGER, ("gap-air", ("face-speed",))), "gaps"),
    Question("gap-back", "gaps", "How far behind the bumper does it begin?",
        "Its front-left-floor corner, back from the face of the bumper: 60 mm.", "figure", "", ("at", "back"),
        "not known", _MEASURED, "gaps"),
    Question("gap-right", "gaps", "How far right of the car's centre line does it begin?",
        "The same corner; left of the line with a minus: -230 mm.", "figure", "", ("at", "right"),
        "not known", _MEASURED, "gaps"),
    Question("gap-up", "gaps", "How high above the ground does it begin?",
        "The same corner: 300 mm. It lets heights from gap to gap be judged.", "figure", "", ("at", "up"),
        "not known", _MEASURED, "gaps"),
    Question("obstacles", "gaps", "What stands in those gaps and must stay clear? Name each.",
        "Names of your own with commas between: brake cylinder, bracket.", "names", "obstacles", (), "nothing",
        _MEASURED),
    Question("obstacle-in", "gaps", "In which gap is it?",
        "One of the gaps named.", "one", "gaps", ("in",), None, _MEASURED, "obstacles"),
    Question("obstacle-from", "gaps", "How far is it from the walls of its gap?",
        "One of left and right, of front and back, of floor and top: left 180 mm, front 200 mm, floor 80 mm.",
        "offsets", "", ("from",), None, _MEASURED, "obstacles"),
    Question("obstacle-wide", "gaps", "How wide is it?",
        "60 mm.", "figure", "", ("wide",), None, _MEASURED, "obstacles"),
    Question("obstacle-high", "gaps", "How high is it?",
        "100 mm.", "figure", "", ("high",), None, _MEASURED, "obstacles"),
    Question("obstacle-deep", "gaps", "How deep is it?",
        "120 mm.", "figure", "", ("deep",), None, _MEASURED, "obstacles"),
    Question("obstacle-kind", "gaps", "What is it to a part beside it?",
        "hot (exhaust) is kept clear by 50 mm all round, moving (belts, the engine on its mounts) by 25 mm; of plain "
        "and crash (beams) their own box alone.", "one",
        "obstacles", ("kind",), None, _MEASURED, "obstacles"),
    Question("own", "what there is already", "Which parts of the catalogue are there already?",
        "Those that stay are marked fitted: core-160-short, pump-40-small fitted.", "own", path=("own",),
        default="none"),
    Question("without", "wishes", "Which parts or kinds of parts are not wanted?",
        "They are in no kit: ids or kinds with commas between.", "some", "parts", ("without",), "none"),
    Question("in-stock", "wishes", "Only parts that are on the shelf today?",
        "Yes keeps parts of stock 0 out.", "one", "answers", ("in_stock",), "no"),
    Question("coolant", "wishes", "Which coolants are welcome, in order of liking?",
        "The first that survives the coldest night is taken; some circuits ban glycol.", "some", "coolants",
        ("coolant", "kinds"), "water, ethylene glycol"),
    Question("ice", "wishes", "Is there ice in the tank at the start? Which kind?",
        "Ice of water, for passes of seconds. It goes with plain water alone.", "one", "ice", ("ice", "kind"), "none",
        (("after", (DEFAULT,)), ("coolant", (DEFAULT, "water")))),
    Question("ice-mass", "wishes", "How much ice?",
        "At the start of a pass: 10 kg, 22 lb.", "figure", "", ("ice", "mass"), None,
        (("after", (DEFAULT,)), ("coolant", (DEFAULT, "water")), ("ice", (ANY,)))),
)  # fmt: skip

BY_KEY: Final = {question.key: question for question in QUESTIONS}
