"""Cards of invented pieces as large as a school band meets them: fourteen percussion parts, eight entrances each.

Everything a director writes is there: tempos that change, repeats, parts that double a wind part, one that takes
another's place, times in the handbook for some pairs and none for the rest, players who play only some instruments.
"""

PARTS = [
    "bells", "xylophone", "marimba", "chimes", "timpani", "snare", "bass drum", "crash cymbals", "suspended cymbal",
    "triangle", "tambourine", "wood block", "sleigh bells", "tam-tam",
]
ENTRANCES = 8
ABILITIES = [
    "mallets, timpani", "mallets, accessories", "mallets, snare, accessories", "snare, bass drum, accessories, cymbals",
    "bass drum, cymbals, accessories, tam-tam", "", "everything but timpani", "timpani, bass drum, cymbals",
]


def measures(rng, total, longest):
    """Eight stretches with a rest of at least a measure between any two."""
    starts = sorted(rng.sample(range(1, total, 2), ENTRANCES))
    ends = [after - 2 for after in starts[1:]] + [total]
    return [(start, min(end, start + rng.randrange(longest))) for start, end in zip(starts, ends)]


def cards(rng, title):
    total = rng.randint(72, 160)
    lines = ["handbook", "  notation        1"]
    for time, pair in [("5 s", "to a neighboring percussion instrument"), ("10 s", "to the timpani"),
                       ("3 s", "from bells to snare"), ("1.5 s", "from triangle to tambourine")]:
        if rng.random() < 0.6:
            lines.append(f"  change          {time} {pair}")
    if rng.random() < 0.5:
        lines.append("  one player      triangle and wood block")
    if rng.random() < 0.3:
        lines.append("  one player      suspended cymbal and tam-tam")
    lines += ["", 'ensemble "Seventh Grade Band"', "  percussionists"]
    for number in range(rng.randint(5, 12)):
        lines.append(f"    P{number + 1}  {rng.choice(ABILITIES)}".rstrip())
    middle = total // 2
    lines += ["", f'piece "{title}"', "  by              Odile Marchetti", "  grade           2.5 ours"]
    lines.append("  meter           " + rng.choice(["4/4", "2/4", "3/4", f"4/4, 3/4 at {middle}", "cut"]))
    lines.append(f"  tempo           quarter = {rng.randint(66, 160)}, quarter = {rng.randint(66, 160)} at {middle}")
    lines.append(f"  measures        {total}")
    roads = ["", f"repeat 9-{middle - 1}", f"segno at 9, D.S. al Fine at {total}, Fine at {middle - 1}"]
    road = rng.choice(roads)
    if road:
        lines.append(f"  roadmap         {road}")
    lines.append("  percussion")
    longest = rng.choice([2, 4, 8, 16])
    for name in PARTS:
        facts = rng.choices(["", ", optional", ", same as flute 1"], [8, 1, 1])[0]
        if name == "tam-tam" and rng.random() < 0.2:
            facts = ", instead of suspended cymbal"
        spans = ", ".join(f"{first}-{last}" if last > first else f"{first}" for first, last in measures(rng, total, longest))
        lines.append(f"    {name}  {spans}{facts}")
    return "\n".join(lines) + "\n"
