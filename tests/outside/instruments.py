"""Transposing instruments, as music21 has them by class and by name."""

from music21 import exceptions21, instrument

from theory import name_of, named

# The standard band name and what music21 calls it: a class where it has one, else a name for it to read.
ASKED = {
    "piccolo": instrument.Piccolo,
    "Db piccolo": "D-flat piccolo",
    "flute": instrument.Flute,
    "alto flute": "alto flute",
    "oboe": instrument.Oboe,
    "English horn": instrument.EnglishHorn,
    "bassoon": instrument.Bassoon,
    "contrabassoon": instrument.Contrabassoon,
    "Eb clarinet": "E-flat clarinet",
    "clarinet": instrument.Clarinet,
    "A clarinet": "clarinet in A",
    "alto clarinet": "alto clarinet",
    "bass clarinet": instrument.BassClarinet,
    "contra-alto clarinet": "contra-alto clarinet",
    "contrabass clarinet": "contrabass clarinet",
    "soprano sax": instrument.SopranoSaxophone,
    "alto sax": instrument.AltoSaxophone,
    "tenor sax": instrument.TenorSaxophone,
    "baritone sax": instrument.BaritoneSaxophone,
    "bass sax": "bass saxophone",
    "trumpet": instrument.Trumpet,
    "C trumpet": "trumpet in C",
    "cornet": "cornet",
    "flugelhorn": "flugelhorn",
    "horn": instrument.Horn,
    "Eb horn": "horn in E-flat",
    "mellophone": "mellophone",
    "trombone": instrument.Trombone,
    "bass trombone": instrument.BassTrombone,
    "baritone": "baritone",
    "baritone T.C.": "baritone t.c.",
    "euphonium": "euphonium",
    "tuba": instrument.Tuba,
    "string bass": instrument.Contrabass,
    "bass guitar": instrument.ElectricBass,
    "guitar": instrument.AcousticGuitar,
    "violin": instrument.Violin,
    "viola": instrument.Viola,
    "cello": instrument.Violoncello,
    "harp": instrument.Harp,
    "piano": instrument.Piano,
    "celesta": instrument.Celesta,
    "timpani": instrument.Timpani,
    "bells": instrument.Glockenspiel,
    "xylophone": instrument.Xylophone,
    "marimba": instrument.Marimba,
    "vibraphone": instrument.Vibraphone,
    "chimes": instrument.TubularBells,
    "crotales": "crotales",
}
WRITTEN = ["C4", "F#4", "Bb4", "D5", "Eb5", "G#5", "B5"]


def found(asked):
    """The instrument of music21, or none where it knows no such name."""
    if not isinstance(asked, str):
        return asked()
    try:
        return instrument.fromString(asked)
    except exceptions21.Music21Exception:
        return None


def transpositions():
    """Written to sounding; `class` is none for a name it does not know."""
    rows = []
    for name, asked in ASKED.items():
        one = found(asked)
        moved = one.transposition if one else None
        rows.append(
            {
                "name": name,
                "asked": asked if isinstance(asked, str) else asked.__name__,
                "class": type(one).__name__ if one else None,
                "semitones": int(moved.semitones) if moved else 0,
                "steps": moved.generic.staffDistance if moved else 0,
            }
        )
    return rows


def lowest():
    """The lowest written note, for the classes that say one and are the instrument asked for."""
    rows = []
    for name, asked in ASKED.items():
        if isinstance(asked, str) or not asked().lowestNote:
            continue
        rows.append({"name": name, "written": name_of(asked().lowestNote)})
    return rows


def sounding():
    """What is heard when a note is played, note by note, for the classes that transpose."""
    rows = []
    for name, asked in ASKED.items():
        if isinstance(asked, str) or not asked().transposition:
            continue
        for written in WRITTEN:
            heard = asked().transposition.transposePitch(named(written))
            rows.append({"name": name, "written": written, "sounding": name_of(heard)})
    return rows
