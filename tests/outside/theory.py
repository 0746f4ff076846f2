"""Pitches, intervals, signatures and keys."""

from music21 import interval, key, pitch
from partitura.utils.music import fifths_mode_to_key_name, pitch_spelling_to_midi_pitch

LETTERS = "CDEFGAB"
MODES = ["ionian", "dorian", "phrygian", "lydian", "mixolydian", "aeolian", "locrian"]


def named(name):
    """A pitch of music21 from `Bb3`: it writes a flat as a minus."""
    return pitch.Pitch(name[0] + name[1:].replace("b", "-"))


def name_of(found):
    """The other way."""
    return found.nameWithOctave.replace("-", "b")


def pitches():
    rows = []
    for octave in range(0, 9):
        for letter in LETTERS:
            for alter, sign in ((-2, "bb"), (-1, "b"), (0, ""), (1, "#"), (2, "##")):
                name = f"{letter}{sign}{octave}"
                rows.append(
                    {
                        "pitch": name,
                        "music21": named(name).midi if 0 <= named(name).ps <= 127 else None,
                        "partitura": int(pitch_spelling_to_midi_pitch(letter, alter, octave)),
                    }
                )
    return rows


def intervals():
    """From every letter with a usual accidental to notes within two octaves and a half either way."""
    names = [f"{letter}{sign}" for letter in LETTERS for sign in ("b", "", "#")]
    rows = []
    for low in names:
        for octave in (3, 4, 5, 6):
            for high in names:
                start, end = f"{low}4", f"{high}{octave}"
                found = interval.Interval(named(start), named(end))
                rows.append(
                    {
                        "from": start,
                        "to": end,
                        "quality": found.diatonic.specificName.lower(),
                        "number": found.generic.undirected,
                        "semitones": int(found.chromatic.semitones),
                        "steps": found.generic.staffDistance,
                    }
                )
    return rows


def signatures():
    """The signature of every tonic in major, minor and the seven modes, as far as seven signs reach."""
    rows = []
    for letter in LETTERS:
        for sign in ("b", "", "#"):
            for mode in ["major", "minor", *MODES]:
                fifths = key.Key(letter + sign.replace("b", "-"), mode).sharps
                rows.append({"tonic": letter + sign, "mode": mode, "fifths": int(fifths)})
    return rows


def key_names():
    """The fifteen majors and fifteen minors by partitura: `Gm` for G minor."""
    return [
        {"fifths": fifths, "mode": mode, "name": fifths_mode_to_key_name(fifths, mode)}
        for fifths in range(-7, 8)
        for mode in ("major", "minor")
    ]


def written_keys():
    """Concert keys moved to where instruments in B-flat, E-flat and F read them."""
    parts = {"clarinet": "M2", "alto sax": "M6", "horn": "P5", "tenor sax": "M9", "A clarinet": "m3"}
    rows = []
    for fifths in range(-7, 8):
        for mode in ("major", "minor"):
            concert = key.KeySignature(fifths).asKey(mode)
            for part, up in parts.items():
                written = concert.transpose(interval.Interval(up))
                rows.append(
                    {
                        "concert": f"{concert.tonic.name.replace('-', 'b')} {mode}",
                        "part": part,
                        "tonic": written.tonic.name.replace("-", "b"),
                        "fifths": int(written.sharps),
                    }
                )
    return rows
