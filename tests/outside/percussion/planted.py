"""Mistakes planted in an instance before its cards are written, to see that comparing finds them."""

import copy


def altered(change):
    def plant(instance):
        other = copy.deepcopy(instance)
        change(other)
        return other

    return plant


def changes(by):
    """Every time between two instruments longer by so many tenths, and none below nought."""

    def change(instance):
        for one, row in instance["changeover"].items():
            for other in row:
                if one != other:
                    row[other] = max(0, row[other] + by)

    return altered(change)


def mounts_ignored(instance):
    instance["mounted"] = []


def longer(instance):
    """Every entrance a tenth longer where the part rests after it."""
    for part in instance["parts"]:
        nexts = [span[0] for span in part["spans"][1:]] + [instance["length"]]
        for span, after in zip(part["spans"], nexts):
            span[1] = min(span[1] + 1, after - 1) if after - 1 > span[1] else span[1]


def everybody_plays_everything(instance):
    skills = sorted({part["skill"] for part in instance["parts"]})
    for player in instance["roster"]:
        player["skills"] = skills


# For whole tenths "at least the change" turned into "more than the change" is a change a tenth longer.
PLANTED = {
    "a change a tenth longer, which is equality forbidden": changes(1),
    "a change a tenth shorter": changes(-1),
    "mounts ignored": altered(mounts_ignored),
    "entrances a tenth longer": altered(longer),
    "abilities ignored": altered(everybody_plays_everything),
}
