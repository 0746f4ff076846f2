"""Whether what `levare assign` tells of an instance holds: its times, its proofs and its sharing.

An answer may have the right number and still be wrong in what it says; so everything that stands in the JSON is held
against the instance (its form is said in `cards.py`), by rules written here and not by the project under test.
"""

import itertools

import cards

# What is justly told of such cards: nobody conducts so fast, and some rosters cannot do it. Anything else told means
# that a card was not read as it is meant.
JUSTLY_TOLD = {"tempo out of reach", "move too quick", "short of percussionists"}


class Rules:
    """What one player can do."""

    def __init__(self, instance, free_changes=False):
        self.parts = instance["parts"]
        self.free = free_changes
        self.between = instance["changeover"]
        self.mounted = {frozenset(pair) for pair in instance["mounted"]}

    def change(self, p, q):
        return 0 if self.free else self.between[self.parts[p]["instr"]][self.parts[q]["instr"]]

    def is_mounted(self, p, q):
        return frozenset((self.parts[p]["id"], self.parts[q]["id"])) in self.mounted

    def clash(self, p, s, q, t):
        """Whether one player cannot have span `s` of part `p` and span `t` of part `q`."""
        if p == q or self.is_mounted(p, q):
            return False
        (early, late) = (s, t) if tuple(s) <= tuple(t) else (t, s)
        return late[0] - early[1] < self.change(p, q)

    def collide(self, p, q):
        return any(self.clash(p, s, q, t) for s in self.parts[p]["spans"] for t in self.parts[q]["spans"])

    def at_once(self):
        """The most parts that sound at one moment, none of them mounted with another: at some part's beginning."""
        moments = {span[0] for part in self.parts for span in part["spans"]}
        sounds = lambda part, now: any(start <= now < end for start, end in part["spans"])
        return max(
            self.unmounted([p for p, part in enumerate(self.parts) if sounds(part, now)]) for now in moments
        )

    def unmounted(self, parts):
        """The most of these parts, of a mounted pair only one: whichever of the two is left out."""
        pairs = [pair for pair in itertools.combinations(parts, 2) if self.is_mounted(*pair)]
        if not pairs:
            return len(parts)
        return max(self.unmounted([p for p in parts if p != out]) for out in pairs[0])


def spans(entrances):
    return sorted([one["start"], one["end"]] for one in entrances)


def faults(instance, told, free_changes=False):
    """What does not hold, in sentences."""
    rules, found = Rules(instance, free_changes), []
    parts = rules.parts
    if told["counted"] != "tenths of a second" or not told["certain"] or told["no_time"]:
        return [f"the times are not known: {told['counted']}, {told['notes']}"]
    name = cards.names(instance)
    meant = [(name[part["id"]], sorted(part["spans"])) for part in parts]
    heard = [(part["name"], spans(part["entrances"])) for part in told["parts"]]
    if meant != heard:
        return [f"{one} is meant and {other} told" for one, other in zip(meant, heard) if one != other] or ["other parts"]
    counts = told["counts"]
    most = rules.at_once()
    if counts["at_once"]["players"] != most:
        found.append(f"at once {counts['at_once']['players']}, and it is {most}")
    for question in ("all", "at_once"):
        found.extend(proof(rules, question, counts[question]))
    for question in ("all", "handing_over", "roster", "roster_handing_over"):
        count = counts[question]
        if count["players"] is not None and not count["at_least"] == count["players"] >= most:
            found.append(f"{question}: {count['players']}, at least {count['at_least']}, and {most} at once")
    found.extend(sharing(rules, instance["roster"], told))
    return found


def proof(rules, question, count):
    """That the parts told as the reason are as many as the players, and that any two of them collide."""
    because = count["parts"]
    if not because:
        return []
    found = [] if len(because) == count["players"] else [f"{question}: {count['players']} because of {because}"]
    for p, q in itertools.combinations(because, 2):
        if not rules.collide(p, q):
            found.append(f"{question}: parts {p} and {q} do not collide")
    if count["at"]:
        when = count["at"]["start"], count["at"]["end"]
        for p in because:
            if not any(s <= when[0] and when[1] <= e for s, e in rules.parts[p]["spans"]):
                found.append(f"{question}: part {p} does not sound at {when}")
    return found


def sharing(rules, roster, told):
    """That every part is played or told as left out, by those who can, and that every move has its time."""
    parts, shared, found = rules.parts, told["sharing"], []
    left = {one["part"] for one in shared["left_out"]}
    plays, whose = [], {}
    for turn in shared["turns"]:
        p, who = turn["part"], turn["player"]
        if parts[p]["skill"] not in roster[who]["skills"]:
            found.append(f"{roster[who]['id']} cannot play part {p}")
        plays.extend((who, p, span) for span in spans(turn["entrances"]))
        whose.setdefault(p, set()).add(who)
    for p, part in enumerate(parts):
        played = sorted(span for _, q, span in plays if p == q)
        if played != ([] if p in left else sorted(part["spans"])):
            found.append(f"part {p} is played at {played}")
        if not told["handing_over"] and len(whose.get(p, ())) > 1:
            found.append(f"part {p} is handed over")
    for (who, p, s), (other, q, t) in itertools.combinations(plays, 2):
        if who == other and rules.clash(p, s, q, t):
            found.append(f"{roster[who]['id']} has parts {p} and {q} at {s} and {t}")
    can = told["counts"]["roster_handing_over" if told["handing_over"] else "roster"]["players"] is not None
    if can == bool(left):
        found.append(f"the roster {'can' if can else 'cannot'}, and left out is {sorted(left)}")
    for move in shared["moves"]:
        p, q = move["from"], move["to"]
        if move["needed"] is not None and not rules.is_mounted(p, q) and move["needed"] != rules.change(p, q):
            found.append(f"from part {p} to {q} takes {rules.change(p, q)}, and {move['needed']} is told")
        # A measure is a tenth, so the last of the one and the first of the other tell when.
        ends, starts = {end for _, end in parts[p]["spans"]}, {start for start, _ in parts[q]["spans"]}
        after, before = move["after"], move["before"] - 1
        if after not in ends or before not in starts or move["there"] != before - after:
            found.append(f"from part {p} after {after} to {q} at {before} there are not {move['there']}")
    return found
