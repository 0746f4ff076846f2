"""Orders of measures: the same road built as a score of each library, and said in a director's words."""

import warnings

import partitura.score
from music21 import bar, note, repeat, spanner, stream

# Each road: measures, the director's words, and its signs. A repeat is its first and last measure, an
# ending its numbers with its first and last; segno, coda, to coda, fine and jumps stand at a measure.
ROADS = [
    (6, "", []),
    (6, "repeat 2-3", [("repeat", 2, 3)]),
    (6, "repeat 3", [("repeat", 3, 3)]),
    (6, "repeat 1-6", [("repeat", 1, 6)]),
    (8, "repeat 1-2, repeat 3-6", [("repeat", 1, 2), ("repeat", 3, 6)]),
    (5, "repeat 1-3, 1st ending 3, 2nd ending 4", [("repeat", 1, 3), ("ending", [1], 3, 3), ("ending", [2], 4, 4)]),
    (
        9,
        "repeat 3-6, 1st ending 5-6, 2nd ending 7-8",
        [("repeat", 3, 6), ("ending", [1], 5, 6), ("ending", [2], 7, 8)],
    ),
    (
        8,
        "repeat 2-4, 1st ending 4, 2nd ending 5, 3rd ending 6",
        [("repeat", 2, 4), ("repeat back", 2, 5), ("ending", [1], 4, 4), ("ending", [2], 5, 5), ("ending", [3], 6, 6)],
    ),
    (
        12,
        "repeat 1-4, 1st ending 4, 2nd ending 5, repeat 6-8",
        [("repeat", 1, 4), ("ending", [1], 4, 4), ("ending", [2], 5, 5), ("repeat", 6, 8)],
    ),
    (6, "D.C. at 6", [("jump", 6, "D.C.")]),
    (6, "Fine at 3, D.C. al Fine at 6", [("fine", 3), ("jump", 6, "D.C. al Fine")]),
    (8, "Fine at 8, D.C. al Fine at 8", [("fine", 8), ("jump", 8, "D.C. al Fine")]),
    (8, "segno at 3, D.S. at 8", [("segno", 3), ("jump", 8, "D.S.")]),
    (8, "segno at 3, Fine at 5, D.S. al Fine at 8", [("segno", 3), ("fine", 5), ("jump", 8, "D.S. al Fine")]),
    (
        11,
        "segno at 2, to coda at 4, D.S. al Coda at 6, coda at 7",
        [("segno", 2), ("to coda", 4), ("jump", 6, "D.S. al Coda"), ("coda", 7)],
    ),
    (
        10,
        "to coda at 4, D.C. al Coda at 8, coda at 9",
        [("to coda", 4), ("jump", 8, "D.C. al Coda"), ("coda", 9)],
    ),
    (
        8,
        "repeat 1-2, Fine at 4, D.C. al Fine at 8",
        [("repeat", 1, 2), ("fine", 4), ("jump", 8, "D.C. al Fine")],
    ),
    (
        9,
        "repeat 5-6, Fine at 4, D.C. al Fine at 9",
        [("repeat", 5, 6), ("fine", 4), ("jump", 9, "D.C. al Fine")],
    ),
    (
        6,
        "repeat 2-3, 1st ending 3, 2nd ending 4, D.C. at 6",
        [("repeat", 2, 3), ("ending", [1], 3, 3), ("ending", [2], 4, 4), ("jump", 6, "D.C.")],
    ),
    (
        8,
        "segno at 3, repeat 1-4, D.S. at 8",
        [("segno", 3), ("repeat", 1, 4), ("jump", 8, "D.S.")],
    ),
]
LOWEST = 30


def by_music21(measures, signs):
    """The order music21 expands to. Every measure has a pitch of its own, so that it can be told."""
    part = stream.Part()
    bars = {}
    for number in range(1, measures + 1):
        one = stream.Measure(number=number)
        one.append(note.Note(LOWEST + number, quarterLength=4))
        part.append(one)
        bars[number] = one
    expressions = {
        "D.C.": repeat.DaCapo,
        "D.C. al Fine": repeat.DaCapoAlFine,
        "D.C. al Coda": repeat.DaCapoAlCoda,
        "D.S.": repeat.DalSegno,
        "D.S. al Fine": repeat.DalSegnoAlFine,
        "D.S. al Coda": repeat.DalSegnoAlCoda,
    }
    for kind, *at in signs:
        if kind == "repeat":
            if at[0] > 1:
                bars[at[0]].leftBarline = bar.Repeat(direction="start")
            bars[at[1]].rightBarline = bar.Repeat(direction="end")
        elif kind == "repeat back":
            bars[at[1]].rightBarline = bar.Repeat(direction="end")
        elif kind == "ending":
            inside = [bars[number] for number in range(at[1], at[2] + 1)]
            part.insert(0, spanner.RepeatBracket(inside, number=",".join(map(str, at[0]))))
        elif kind == "segno":
            bars[at[0]].insert(0, repeat.Segno())
        elif kind == "coda":
            bars[at[0]].insert(0, repeat.Coda())
        elif kind == "to coda":
            bars[at[0]].append(repeat.Coda("to coda"))
        elif kind == "fine":
            bars[at[0]].append(repeat.Fine())
        elif kind == "jump":
            bars[at[0]].append(expressions[at[1]]())
    return [found.pitch.midi - LOWEST for found in part.expandRepeats().recurse().notes]


def by_partitura(measures, signs):
    """The order partitura unfolds to. A note's id names its measure."""
    part = partitura.score.Part("P")
    part.set_quarter_duration(0, 1)
    part.add(partitura.score.TimeSignature(4, 4), 0)
    for number in range(1, measures + 1):
        start = 4 * (number - 1)
        part.add(partitura.score.Measure(number=number, name=str(number)), start, start + 4)
        sound = partitura.score.Note(step="C", octave=4, alter=0, id=f"m{number}", voice=1, staff=1)
        part.add(sound, start, start + 4)
    for kind, *at in signs:
        if kind in ("repeat", "repeat back"):
            part.add(partitura.score.Repeat(), 4 * (at[0] - 1), 4 * at[1])
        elif kind == "ending":
            part.add(partitura.score.Ending(",".join(map(str, at[0]))), 4 * (at[1] - 1), 4 * at[2])
        elif kind == "segno":
            part.add(partitura.score.Segno(), 4 * (at[0] - 1))
        elif kind == "coda":
            part.add(partitura.score.Coda(), 4 * (at[0] - 1))
        elif kind == "to coda":
            part.add(partitura.score.ToCoda(), 4 * at[0])
        elif kind == "fine":
            part.add(partitura.score.Fine(), 4 * at[0])
        elif kind == "jump":
            sign = partitura.score.DaCapo() if at[1].startswith("D.C.") else partitura.score.DalSegno()
            part.add(sign, 4 * at[0])
    unfolded = partitura.score.unfold_part_maximal(part, ignore_leaps=False)
    ordered = sorted(unfolded.notes, key=lambda found: found.start.t)
    return [int(found.id.split("-")[0].removeprefix("m")) for found in ordered]


def answer(ask, measures, signs):
    """A library's order, or the kind of error it ends with."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return ask(measures, signs)
    except Exception as problem:  # Whatever a library raises is its answer.
        return type(problem).__name__


def orders():
    return [
        {
            "measures": measures,
            "road": words,
            "music21": answer(by_music21, measures, signs),
            "partitura": answer(by_partitura, measures, signs),
        }
        for measures, words, signs in ROADS
    ]
