"""Meters and lengths."""

from music21 import duration, meter, note, stream, tempo

METERS = ["2/4", "3/4", "4/4", "5/4", "6/4", "2/2", "3/2", "3/8", "6/8", "9/8", "12/8", "5/8", "7/8", "6/16"]
UNITS = {
    "half": duration.Duration("half"),
    "dotted half": duration.Duration("half", dots=1),
    "quarter": duration.Duration("quarter"),
    "dotted quarter": duration.Duration("quarter", dots=1),
    "eighth": duration.Duration("eighth"),
}

# Each piece: measures, meters by measure, tempos by measure.
PIECES = [
    (32, {1: "4/4"}, {1: "quarter = 80"}),
    (88, {1: "4/4", 20: "3/4", 22: "4/4"}, {1: "quarter = 76", 33: "quarter = 144", 73: "quarter = 76"}),
    (48, {1: "6/8"}, {1: "dotted quarter = 96"}),
    (64, {1: "2/2"}, {1: "half = 72", 40: "half = 60"}),
    (40, {1: "6/8", 17: "2/4"}, {1: "dotted quarter = 108", 17: "quarter = 108"}),
    (24, {1: "5/8", 9: "7/8", 17: "6/8"}, {1: "eighth = 200", 17: "dotted quarter = 66"}),
    (30, {1: "3/4"}, {1: "dotted half = 54", 20: "quarter = 120"}),
    (12, {1: "12/8"}, {1: "dotted quarter = 63"}),
    (100, {1: "4/4"}, {1: "quarter = 184", 50: "quarter = 92"}),
]


def meters():
    rows = []
    for said in METERS:
        found = meter.TimeSignature(said)
        rows.append(
            {
                "meter": said,
                "quarters": float(found.barDuration.quarterLength),
                "beats": found.beatCount,
                "beat": float(found.beatDuration.quarterLength),
            }
        )
    return rows


def mark(said):
    unit, figure = said.split(" = ")
    return tempo.MetronomeMark(number=int(figure), referent=UNITS[unit])


def steady(said_meter, said_tempo, measures):
    """Seconds from the bar's length and the mark alone."""
    bar = meter.TimeSignature(said_meter).barDuration.quarterLength
    return mark(said_tempo).durationToSeconds(float(bar * measures))


def played(measures, meters_at, tempos_at):
    """Seconds from a whole score with its marks."""
    part = stream.Part()
    length = 4.0
    for number in range(1, measures + 1):
        bar = stream.Measure(number=number)
        if number in meters_at:
            sign = meter.TimeSignature(meters_at[number])
            bar.insert(0, sign)
            length = sign.barDuration.quarterLength
        if number in tempos_at:
            bar.insert(0, mark(tempos_at[number]))
        bar.append(note.Rest(quarterLength=length))
        part.append(bar)
    flat = part.flatten()
    return max(found["endTimeSeconds"] for found in flat.secondsMap)


def lengths():
    rows = []
    for measures, meters_at, tempos_at in PIECES:
        rows.append(
            {
                "measures": measures,
                "meters": {str(at): said for at, said in meters_at.items()},
                "tempos": {str(at): said for at, said in tempos_at.items()},
                "seconds": played(measures, meters_at, tempos_at),
            }
        )
    for said_meter in METERS:
        for said_tempo in ("quarter = 60", "half = 72", "dotted quarter = 96", "eighth = 160"):
            rows.append(
                {
                    "measures": 17,
                    "meters": {"1": said_meter},
                    "tempos": {"1": said_tempo},
                    "seconds": steady(said_meter, said_tempo, 17),
                }
            )
    return rows
