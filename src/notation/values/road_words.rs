//! Reading a step of the roadmap in the words of directors.

use super::passages::{ordinal, passage_of_a_road, passes};
use super::place::{Place, Point, Stretch};
use super::point;
use super::road::{Marked, RoadStep, Somewhere, Until};
use super::steps::Steps;
use crate::notation::scan;

const OPEN: &[&str] = &["open repeats", "open repeat", "vamp"];
const AS_LIKED: &[&str] = &[
    "open",
    "until cue",
    "till cue",
    "til cue",
    "until ready",
    "till ready",
    "til ready",
    "on cue",
    "ad lib",
    "as often as wanted",
];
const LEAVE_OUT: &[&str] = &["cut out", "cut", "skip", "omit", "leave out"];

/// Reads a step that is all of `text`.
pub(super) fn step(text: &str) -> Option<RoadStep> {
    let readers: [fn(&mut Steps<'_>) -> Option<RoadStep>; 11] = [
        words, somewhere, no_jump, skipped, open, endings, ending, only, jump, sign, repeat,
    ];
    readers.into_iter().find_map(|reader| {
        let mut cursor = Steps::new(text);
        let step = reader(&mut cursor)?;
        if cursor.sign(&['.']) {
            cursor.blanks();
        }
        cursor.is_done().then_some(step)
    })
}

/// Steps that are words alone.
fn words(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    if cursor.any(&[
        "with repeats",
        "repeats again",
        "repeats taken again",
        "take repeats after the jump",
    ]) {
        return Some(RoadStep::RepeatsAgain);
    }
    if cursor.any(&[
        "straight through",
        "straight thru",
        "no repeats",
        "no repeat",
        "none",
        "through composed",
    ]) {
        return Some(RoadStep::Straight);
    }
    (cursor.eat("through") && cursor.dash() && cursor.eat("composed")).then_some(RoadStep::Straight)
}

/// What occurs without a place: `repeats`, `1st and 2nd endings`, `coda`.
fn somewhere(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    let found = if cursor.any(&["several repeats", "repeats"]) {
        Somewhere::Repeats
    } else if cursor.any(&["a coda", "coda"]) {
        Somewhere::Coda
    } else if cursor.any(&["a segno", "segno", "a sign"]) {
        Somewhere::Segno
    } else if cursor.any(AS_LIKED) {
        return Some(RoadStep::OpenSomewhere);
    } else {
        let found = all_passes(cursor)?;
        if !cursor.any(&["endings", "ending"]) {
            return None;
        }
        Somewhere::Endings(found)
    };
    cursor.is_done().then_some(RoadStep::Somewhere(found))
}

fn no_jump(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    if !cursor.eat("no") {
        return None;
    }
    if cursor.any(&["jumps", "jump"]) {
        return Some(RoadStep::NoJump);
    }
    let _ = jump_name(cursor)?;
    while cursor.any(&["or", "and"]) || cursor.sign(&['/']) {
        cursor.eat("no");
        let _ = jump_name(cursor)?;
    }
    Some(RoadStep::NoJump)
}

/// `skip the repeat`, `no repeat at trio`, `cut 17-32`.
fn skipped(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    let none = cursor.eat("no") || cursor.eat("without");
    if !none && !cursor.any(LEAVE_OUT) {
        return None;
    }
    let mut ahead = *cursor;
    ahead.any(&["the", "all"]);
    if ahead.any(&["repeats", "repeat"]) {
        *cursor = ahead;
        if cursor.is_done() {
            return Some(RoadStep::Skip(None));
        }
        cursor.any(&["at", "of", "in", "from"]);
        let at = point::read(cursor, true)?;
        return Some(RoadStep::Skip(Some(at)));
    }
    if none {
        return None;
    }
    let first = reach(cursor, Marked::Cut)?;
    more(cursor, first, &Marked::Cut)
}

/// `9-16 and 17-24`: the measures of more steps of the same kind behind the first.
fn more(cursor: &mut Steps<'_>, first: RoadStep, what: &Marked) -> Option<RoadStep> {
    let mut steps = vec![first];
    while cursor.eat("and") || cursor.sign(&['&', '+']) {
        steps.push(reach(cursor, what.clone())?);
    }
    // `repeats at 9 and 25` names signs and not what stands between them.
    let one = |step: &RoadStep| {
        step.stretch()
            .is_some_and(|stretch| stretch.first == stretch.last)
    };
    if steps.len() > 1 && steps.iter().any(one) && *what != Marked::Cut {
        return None;
    }
    match steps.len() {
        1 => steps.pop(),
        _ => Some(RoadStep::Several(steps)),
    }
}

/// `open repeat at G on cue`, `vamp 5-8`.
fn open(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    if !cursor.any(OPEN) {
        return None;
    }
    if cursor.is_done() {
        return Some(RoadStep::OpenSomewhere);
    }
    let mut ahead = *cursor;
    let step = if ahead.eat("at")
        && let Some(at) = point::read(&mut ahead, true)
        && (ahead.is_done() || ahead.any(AS_LIKED))
    {
        *cursor = ahead;
        return Some(RoadStep::OpenAt(at));
    } else {
        reach(cursor, Marked::Open)?
    };
    cursor.any(AS_LIKED);
    Some(match step {
        RoadStep::Marked { from, to: None, .. } => RoadStep::OpenAt(from),
        step => step,
    })
}

/// The measures of a step, by numbers or by marks.
fn reach(cursor: &mut Steps<'_>, what: Marked) -> Option<RoadStep> {
    cursor.eat("of");
    match passage_of_a_road(cursor)? {
        Place::Between(Point::Measure(first), Point::Measure(last)) => Some(what.on(Stretch { first, last })),
        Place::Between(from, to) => Some(RoadStep::Marked {
            what,
            from,
            to: Some(to),
        }),
        Place::At(from) => Some(RoadStep::Marked { what, from, to: None }),
        Place::Throughout | Place::Movement(_) => None,
    }
}

/// `1st`, `first`, `2`.
fn pass(cursor: &mut Steps<'_>) -> Option<u32> {
    if let Some(pass) = ordinal(cursor) {
        return Some(pass);
    }
    let mut ahead = *cursor;
    ahead.blanks();
    let (rest, number) = scan::number(ahead.rest).ok()?;
    let rest = ["st", "nd", "rd", "th"]
        .iter()
        .find_map(|ending| rest.strip_prefix(ending))
        .unwrap_or(rest);
    scan::word_end(rest).ok()?;
    cursor.rest = rest;
    (number > 0).then_some(number)
}

fn all_passes(cursor: &mut Steps<'_>) -> Option<Vec<u32>> {
    let mut found = vec![pass(cursor)?];
    while cursor.eat("and") || cursor.sign(&['&', '+', '/']) {
        found.push(pass(cursor)?);
    }
    Some(found)
}

/// `1st/2nd end 20 21`, `1st and 2nd endings 20 and 21`: endings with as many places as there are of them.
fn endings(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    let passes = all_passes(cursor)?;
    if passes.len() < 2
        || !cursor.any(&[
            "endings",
            "ending",
            "ends",
            "end",
            "voltas",
            "time bars",
            "time bar",
        ])
    {
        return None;
    }
    cursor.sign(&['=', ':']);
    let mut steps = Vec::new();
    for pass in passes {
        if !steps.is_empty() && !cursor.eat("and") {
            cursor.sign(&['&', '+', '/']);
        }
        steps.push(reach(cursor, Marked::Ending(vec![pass], None))?);
    }
    Some(RoadStep::Several(steps))
}

/// `2nd ending 41-42`, `1st time bar 8`, `ending 3 at 41`.
fn ending(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    let found = if cursor.any(&["ending", "volta"]) {
        all_passes(cursor)?
    } else {
        let found = all_passes(cursor)?;
        if !cursor.any(&["endings", "ending", "end", "volta", "time bars", "time bar"]) {
            return None;
        }
        found
    };
    cursor.sign(&['=', ':']);
    let step = reach(cursor, Marked::Ending(found, None))?;
    if !cursor.any(&["leads into", "into"]) {
        return Some(step);
    }
    cursor.measure_word();
    let into = cursor.number()?;
    if cursor.dash() {
        cursor.number()?;
    }
    match step {
        RoadStep::Ending { passes, stretch, .. } => Some(RoadStep::Ending {
            passes,
            stretch,
            into: Some(into),
        }),
        RoadStep::Marked {
            what: Marked::Ending(passes, _),
            from,
            to,
        } => Some(RoadStep::Marked {
            what: Marked::Ending(passes, Some(into)),
            from,
            to,
        }),
        _ => None,
    }
}

/// `2nd time only 33-36`, `33-36 on the repeat`.
fn only(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    let mut ahead = *cursor;
    if let Some(found) = only_passes(&mut ahead) {
        *cursor = ahead;
        return reach(cursor, Marked::Only(found));
    }
    match reach(cursor, Marked::Cut)? {
        RoadStep::Cut(stretch) => Some(Marked::Only(only_passes(cursor)?).on(stretch)),
        RoadStep::Marked { from, to, .. } => Some(RoadStep::Marked {
            what: Marked::Only(only_passes(cursor)?),
            from,
            to,
        }),
        _ => None,
    }
}

/// Passes with an `only`; `1st time 8` could as well be an ending.
fn only_passes(cursor: &mut Steps<'_>) -> Option<Vec<u32>> {
    let mut ahead = *cursor;
    let found = passes(&mut ahead)?;
    let said = cursor
        .rest
        .get(..cursor.rest.len() - ahead.rest.len())?
        .to_lowercase();
    let sure = ahead.eat("only") || said.contains("repeat") || said.contains("only");
    sure.then(|| {
        *cursor = ahead;
        found
    })
}

/// Where a sign or jump stands: after `at` also at a mark of the director's own.
fn at_point(cursor: &mut Steps<'_>) -> Option<Point> {
    cursor.sign(&['=', ':', '@']);
    cursor.eat("is");
    let led = cursor.any(&["at the end of", "after", "at"]);
    let mut ahead = *cursor;
    match point::read(&mut ahead, true) {
        Some(point) => {
            *cursor = ahead;
            Some(point)
        }
        None if led => {
            let point = point::own(cursor.rest)?;
            cursor.rest = "";
            Some(point)
        }
        None => None,
    }
}

/// `segno at 9`, `second coda at 90`, `to coda before 21`.
fn sign(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    cursor.eat("the");
    let mut ahead = *cursor;
    let before = pass(&mut ahead).filter(|_| !ahead.is_done());
    if before.is_some() {
        *cursor = ahead;
    }
    if before.is_none() && cursor.eat("fine") {
        return at_point(cursor).map(RoadStep::Fine);
    }
    let exit = cursor.any(&["to the coda", "to coda", "al coda sign"]);
    let segno = !exit && cursor.any(&["segno", "sign"]);
    if !exit && !segno && !cursor.eat("coda") {
        return None;
    }
    let mut ahead = *cursor;
    let after = pass(&mut ahead).filter(|_| {
        let mut next = ahead;
        next.any(&["at", "after"])
    });
    if after.is_some() {
        *cursor = ahead;
    }
    let nth = before.or(after).unwrap_or(1);
    // `coda from 36 to 77`: where it is left for and where it starts.
    if !exit && !segno && cursor.eat("from") {
        let from = point::read(cursor, true)?;
        cursor.eat("to").then_some(())?;
        let to = point::read(cursor, true)?;
        return Some(RoadStep::Several(vec![
            RoadStep::ToCoda(nth, from),
            RoadStep::Coda(nth, to),
        ]));
    }
    let at = at_point(cursor)?;
    Some(match (exit, segno) {
        (true, _) => RoadStep::ToCoda(nth, at),
        (_, true) => RoadStep::Segno(nth, at),
        _ => RoadStep::Coda(nth, at),
    })
}

/// Whether a jump goes to the sign: `D.C.`, `DC`, `da capo`, `D.S.`, `dal segno`.
fn jump_name(cursor: &mut Steps<'_>) -> Option<bool> {
    if cursor.eat("da capo") {
        return Some(false);
    }
    if cursor.eat("dal segno") {
        return Some(true);
    }
    cursor.blanks();
    let rest = cursor.rest.strip_prefix(['d', 'D'])?;
    let rest = rest
        .strip_prefix('.')
        .unwrap_or(rest)
        .trim_start_matches(scan::is_blank);
    let segno = rest.starts_with(['s', 'S']);
    let rest = rest.strip_prefix(['s', 'S', 'c', 'C'])?;
    scan::word_end(rest).ok()?;
    cursor.rest = rest.strip_prefix('.').unwrap_or(rest);
    scan::word_end(cursor.rest).ok()?;
    Some(segno)
}

fn jump(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    // `at 76 D.S. to 17` says first where it stands.
    let before = match cursor.eat("at") {
        true => Some(point::read(cursor, true)?),
        false => None,
    };
    let to_sign = jump_name(cursor)?;
    let leads = |cursor: Steps<'_>| {
        let mut ahead = cursor;
        ahead.any(&["al", "to", "till", "at", "after"])
    };
    let mut segno = to_sign.then_some(1);
    let mut ahead = *cursor;
    if to_sign
        && let Some(number) = ahead.number()
        && leads(ahead)
    {
        segno = Some(number);
        *cursor = ahead;
    }
    let mut ahead = *cursor;
    let mut until = Until::End;
    if ahead.any(&["al", "to", "till"]) {
        ahead.eat("the");
        if ahead.eat("fine") {
            until = Until::Fine;
        } else if ahead.eat("coda") {
            let mut next = ahead;
            let number = next
                .number()
                .filter(|number| leads(next) || next.is_done() && *number < 10);
            if number.is_some() {
                ahead = next;
            }
            until = Until::Coda(number.unwrap_or(1));
        } else if !ahead.eat("end") {
            // `D.S. to 17` names the sign.
            if !to_sign {
                return None;
            }
            ahead = *cursor;
        }
        *cursor = ahead;
    }
    // Repeats are not taken again after a jump unless it says so.
    if cursor.any(&["without repeats", "no repeats", "senza repetizione", "senza rep"]) {
        cursor.any(&["on the way back", "the second time", "second time", "this time"]);
    }
    let mut sign = to_sign.then(|| sign_of(cursor)).flatten();
    let at = match cursor.is_done() || sign.is_some() {
        true => before,
        false if before.is_none() => Some(at_point(cursor)?),
        false => return None,
    };
    if to_sign && sign.is_none() {
        sign = sign_of(cursor);
    }
    let jump = RoadStep::Jump { segno, until, at };
    Some(match sign {
        Some(sign) => RoadStep::Several(vec![RoadStep::Segno(segno.unwrap_or(1), sign), jump]),
        None => jump,
    })
}

/// Where the sign stands that a jump goes to: `to 17`, `to the sign at 17`, `back to B`.
fn sign_of(cursor: &mut Steps<'_>) -> Option<Point> {
    let mut ahead = *cursor;
    ahead.any(&["back", "goes back", "go back"]);
    if !ahead.eat("to") {
        return None;
    }
    if ahead.any(&["the sign", "the segno", "sign", "segno"]) {
        ahead.any(&["at", "in"]);
    }
    let sign = point::read(&mut ahead, true)?;
    *cursor = ahead;
    Some(sign)
}

fn repeat(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    let named = cursor.any(&["repeats", "repeat"]);
    let play = !named && cursor.eat("play");
    let step = match strains(cursor) {
        Some(strains) => strains,
        None => {
            let first = reach(cursor, Marked::Repeat(2))?;
            more(cursor, first, &Marked::Repeat(2))?
        }
    };
    let said = cursor.any(&["is repeated", "are repeated", "repeated"]);
    let times = match cursor.is_done() {
        true => None,
        false => Some(times(cursor)?),
    };
    let plain = match &step {
        RoadStep::Repeat { stretch, .. } => stretch.first != stretch.last,
        RoadStep::Marked { to, .. } => to.is_some(),
        // Passages alone, one behind the other, are as well where something else happens.
        _ => false,
    };
    if !named && !said && (play && times.is_none() || !plain) {
        return None;
    }
    let what = match times {
        Some(None) => Marked::Open,
        Some(Some(times)) if times >= 2 => Marked::Repeat(times),
        Some(Some(_)) => return None,
        None => Marked::Repeat(2),
    };
    let so_often = |step: RoadStep| match step {
        RoadStep::Repeat { stretch, .. } => what.clone().on(stretch),
        RoadStep::Marked { from, to, .. } => RoadStep::Marked {
            what: what.clone(),
            from,
            to,
        },
        step => step,
    };
    Some(match step {
        RoadStep::Several(_) if what == Marked::Open => return None,
        RoadStep::Several(steps) => RoadStep::Several(steps.into_iter().map(so_often).collect()),
        step => so_often(step),
    })
}

/// `both strains`: the first and the second.
fn strains(cursor: &mut Steps<'_>) -> Option<RoadStep> {
    let many = if cursor.any(&["both strains", "the two strains", "two strains"]) {
        ["first strain", "second strain"].as_slice()
    } else if cursor.any(&["all three strains", "the three strains", "three strains"]) {
        ["first strain", "second strain", "third strain"].as_slice()
    } else {
        return None;
    };
    let each = many.iter().map(|name| RoadStep::Marked {
        what: Marked::Repeat(2),
        from: Point::Mark((*name).to_owned()),
        to: None,
    });
    Some(RoadStep::Several(each.collect()))
}

/// How often in all: `3 times`, `x3`, `3x`, `twice`; none inside for an open repeat.
fn times(cursor: &mut Steps<'_>) -> Option<Option<u32>> {
    if cursor.eat("twice") {
        return Some(Some(2));
    }
    if cursor.any(AS_LIKED) {
        return Some(None);
    }
    cursor.eat("played");
    cursor.blanks();
    if let Some(rest) = cursor.rest.strip_prefix(['x', 'X', '×']) {
        cursor.rest = rest;
        return Some(Some(cursor.number()?));
    }
    let mut ahead = *cursor;
    if let Some(count) = ahead.count()
        && (ahead.any(&["times", "time", "x"]) || ahead.sign(&['×']))
    {
        *cursor = ahead;
        return Some(Some(count));
    }
    let (rest, count) = scan::number(cursor.rest).ok()?;
    let rest = rest.strip_prefix(['x', 'X', '×'])?;
    scan::word_end(rest).ok()?;
    cursor.rest = rest;
    Some(Some(count))
}
