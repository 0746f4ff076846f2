//! Items of a list and stages of a value: what stands between commas, with what is said about it.

use nom::Parser;
use nom::branch::alt;
use nom::character::complete::char;
use nom::combinator::opt;

use super::build::trim_span;
use super::heard::{Ear, Expected};
use super::of::Of;
use super::one_bar;
use super::pieces::{self, split_commas};
use super::scan::{self, blanks, blanks1, phrase, word};
use super::stays;
use super::values::conventional::{is_plain, own_word};
use super::values::{self, Place, Value, place};
use crate::text::Span;

/// One item or stage.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// All of it, without blanks at its ends.
    pub span: Span,
    /// The value alone: without `about`, `then`, a place or a trailing `?`.
    pub core: Span,
    /// Whether it is marked as near enough.
    pub about: bool,
    /// Whether it is marked as an open question.
    pub open: bool,
    /// Whether it only comes some time after the one before.
    pub then: bool,
    /// Whether it holds only here and there (`some 3/4`).
    pub some: bool,
    /// Where it holds or starts.
    pub place: Option<Place>,
    /// What was understood; none when the words are not what the field holds.
    pub value: Option<Value>,
    /// Whether it holds words that were not understood.
    pub partial: bool,
}

impl Item {
    /// Whether a rule may treat the value as certain.
    pub fn is_certain(&self) -> bool {
        !self.about && !self.open && !self.some && !self.partial
    }

    /// Whether words stand where no value could be read.
    pub fn is_wrong(&self) -> bool {
        self.value.is_none() && !self.core.is_empty()
    }

    /// The item in the one form, where its value was understood.
    pub fn one_form(&self) -> Option<String> {
        let value = self.value.as_ref().filter(|_| !self.partial)?.to_string();
        let mut text = String::new();
        for (said, word) in [(self.then, "then "), (self.some, "some "), (self.about, "about ")] {
            if said {
                text.push_str(word);
            }
        }
        text.push_str(&value);
        if let Some(place) = &self.place {
            text.push_str(&format!(" {place}"));
        }
        if self.open {
            text.push('?');
        }
        Some(text)
    }
}

/// Reads the items of a list in `span` of the entry's text, remarks already blanked.
pub fn list(ear: &mut Ear, masked: &str, span: Span, of: Of) -> Vec<Item> {
    listen(ear, span, of);
    if takes_all(of) {
        return whole(ear, masked, span, of).into_iter().collect();
    }
    let mut items: Vec<Item> = Vec::new();
    for span in pieces::of_list(ear, masked, span, of) {
        if of == Of::Road
            && let Some(last) = items.last_mut()
            && stays::only_goes_on(span.slice(masked))
        {
            ear.hear(span);
            last.span = Span::new(last.span.start, span.end);
            continue;
        }
        let mark = ear.mark();
        let mut read = item(ear, masked, span, of, false);
        if of == Of::Road
            && read.value.is_none()
            && let Some(value) = stays::another_ending(span.slice(masked), items.last())
        {
            ear.forget(mark);
            ear.hear(span);
            (read.value, read.partial) = (Some(value), false);
        }
        items.push(read);
    }
    items
}

/// Reads a value in `span`: one stage, or several where it changes on the way.
pub fn stages(ear: &mut Ear, masked: &str, span: Span, of: Of) -> Vec<Item> {
    listen(ear, span, of);
    if !changes(of) {
        return whole(ear, masked, span, of).into_iter().collect();
    }
    let mut parts = Vec::new();
    for (offset, piece) in split_commas(span.slice(masked)) {
        for (start, part) in split_then(piece, of) {
            let start = span.start + (offset + start) as u32;
            let part = trim_span(masked, Span::long(start, part.len() as u32));
            for part in but_for_a_bar(masked, part, of) {
                for part in but_for_a_place(masked, part) {
                    parts.extend(without_comma(masked, part, of));
                }
            }
        }
    }
    parts.retain(|part| !part.is_empty());
    let more = one_bar::more_bars(masked, &parts, of);
    let mut stages: Vec<Item> = Vec::new();
    let mut from: Option<Place> = None;
    for (at, part) in parts.iter().enumerate() {
        // `5/4 at 12, 28 and 44`: the same meter in each of these bars alone.
        if let Some(bars) = more.get(&at)
            && let Some(before) = stages.last_mut()
        {
            ear.hear(*part);
            let first = before.clone();
            before.place = before.place.take().map(one_bar::alone);
            for bar in bars {
                stages.push(Item {
                    span: bar.0,
                    core: bar.0,
                    place: Some(one_bar::alone(Place::At(place::Point::Measure(bar.1)))),
                    ..first.clone()
                });
            }
            continue;
        }
        let more = at + 1 < parts.len();
        if let [only] = stages.as_mut_slice()
            && !more
            && changes_nothing(part.slice(masked))
        {
            ear.hear(*part);
            only.span = Span::new(only.span.start, part.end);
            break;
        }
        let ends = if more { until(part.slice(masked)) } else { None };
        let own = match &ends {
            Some((head, _)) => Span::long(part.start, *head as u32),
            None => stays::without_tail(ear, masked, *part, from.is_some()),
        };
        let mark = ear.mark();
        let mut stage = item(ear, masked, own, of, true);
        if (stage.value.is_none() || stage.partial)
            && let Some(again) = stays::goes_on(own.slice(masked), stages.last())
        {
            ear.hear(own);
            (stage.value, stage.place, stage.partial) = (Some(again.0), again.1, false);
            stage.core = own;
        }
        // `1 sharp in the middle section`: nobody says what comes behind it, so that it is not known.
        if !more && !stages.is_empty() && stays::ends_nowhere(own.slice(masked), stage.place.as_ref()) {
            ear.forget(mark);
            (stage.value, stage.place, stage.core) = (None, None, own);
        }
        stage.span = *part;
        if let Some(place) = from.take()
            && stage.place.is_none()
        {
            stage.then = false;
            stage.place = Some(place);
        }
        if let Some((_, place)) = ends {
            ear.hear(Span::new(own.end, part.end));
            from = Some(place);
        }
        stages.push(stage);
    }
    stages
}

/// `2/4 til 40`, `two flats through m. 56`: where the next stage starts, and the length of what stands before it.
fn until(text: &str) -> Option<(usize, Place)> {
    // All of these words begin so.
    let begins = |pair: &[u8]| matches!(pair, [b' ', b't' | b'u']);
    if !text.as_bytes().windows(2).any(begins) {
        return None;
    }
    let until = [" til ", " till ", " until ", " up to "]
        .iter()
        .find_map(|joint| {
            let (head, tail) = text.split_once(joint)?;
            Some((head.trim_end().len(), place::after_at(tail)?))
        });
    until.or_else(|| {
        [" through ", " thru "].iter().find_map(|joint| {
            let (head, tail) = text.split_once(joint)?;
            match place::after_at(tail)? {
                Place::At(place::Point::Measure(last)) => {
                    let next = place::Point::Measure(last.checked_add(1)?);
                    Some((head.trim_end().len(), Place::At(next)))
                }
                _ => None,
            }
        })
    })
}

/// `no changes` behind the only stage says what its being alone says.
fn changes_nothing(text: &str) -> bool {
    [
        "no changes",
        "no change",
        "never changes",
        "no key changes",
        "no meter changes",
        "no tempo changes",
        "doesn't change",
        "does not change",
        "it never changes",
        "stays there",
        "the whole time",
    ]
    .iter()
    .any(|said| text.trim().eq_ignore_ascii_case(said))
}

/// `4/4 with one 2/4 bar at 24`: two stages with words between them that only join.
fn but_for_a_bar(masked: &str, part: Span, of: Of) -> Vec<Span> {
    if of != Of::Meter || part.len() > scan::LONGEST {
        return vec![part];
    }
    if let Some(end) = one_bar::first_of_bars(masked, part) {
        let head = Span::new(part.start, end);
        let tail = trim_span(masked, Span::new(end, part.end));
        let mut parts = but_for_a_bar(masked, head, of);
        parts.push(tail);
        return parts;
    }
    match one_bar::split(part.slice(masked)) {
        Some(end) => {
            let head = Span::long(part.start, end as u32);
            vec![head, trim_span(masked, Span::new(head.end, part.end))]
        }
        None => vec![part],
    }
}

/// `Bb except the trio in Eb`: two stages, the second of which holds in one place.
fn but_for_a_place(masked: &str, part: Span) -> Vec<Span> {
    let text = part.slice(masked);
    let cut = BUT_FOR
        .iter()
        .filter_map(|lead| scan::find_word(text, lead))
        .filter(|at| *at > 0)
        .min();
    match cut {
        Some(at) => vec![
            trim_span(masked, Span::long(part.start, at as u32)),
            Span::new(part.start + at as u32, part.end),
        ],
        None => vec![part],
    }
}

/// `quarter = 132 rit. 61 to end`: two stages whose comma was left out, where the second says its place.
fn without_comma(masked: &str, part: Span, of: Of) -> Vec<Span> {
    let text = part.slice(masked);
    let reads = |text: &str| values::read(of, text).is_some();
    let placed = |text: &str| {
        let (value, place) = place::split_place(text);
        place.is_some() && reads(value)
    };
    let one_bar = |text: &str| of == Of::Meter && one_bar::read(text).is_some();
    let whole = |text: &str| reads(text) || placed(text) || one_bar(text);
    if part.len() > scan::LONGEST || reads(text) {
        return vec![part];
    }
    // Where no place can be read in all of it, none can in its end.
    let (value, place) = place::split_place(text);
    if place.is_none() || reads(value) || one_bar(text) {
        return vec![part];
    }
    let words: Vec<Span> = words_of(masked, part).take(MOST_WORDS).collect();
    let split = words.iter().skip(1).find(|word| {
        let head = Span::new(part.start, word.start).slice(masked).trim_end();
        whole(head) && placed(Span::new(word.start, part.end).slice(masked))
    });
    match split {
        Some(word) => vec![
            trim_span(masked, Span::new(part.start, word.start)),
            Span::new(word.start, part.end),
        ],
        None => vec![part],
    }
}

/// Words of these kinds are the director's own, or another reader accounts for them.
fn listen(ear: &mut Ear, span: Span, of: Of) {
    if !of.is_free() {
        ear.listen(span, Expected::Item(of));
    }
}

/// Whether values of this kind may change on the way through a piece.
pub fn changes(of: Of) -> bool {
    matches!(of, Of::Key | Of::Signature | Of::Meter | Of::Tempo)
}

/// Whether commas belong to the value itself.
fn takes_all(of: Of) -> bool {
    matches!(of, Of::Stet | Of::People | Of::Performance | Of::Price)
}

fn whole(ear: &mut Ear, masked: &str, span: Span, of: Of) -> Option<Item> {
    let span = trim_span(masked, span);
    (!span.is_empty()).then(|| item(ear, masked, span, of, false))
}

/// `Bb then Eb`, `Fm -> F at 81`. From one tempo to another an arrow may as well be an accelerando.
fn split_then(piece: &str, of: Of) -> Vec<(usize, &str)> {
    // Most values have no such word, and looking for a letter costs less.
    if !piece.contains(['h', '>', '→']) {
        return vec![(0, piece)];
    }
    let joints = THEN.iter().take(if of == Of::Tempo { 1 } else { THEN.len() });
    let mut cuts: Vec<usize> = joints
        .flat_map(|joint| piece.match_indices(joint))
        .map(|(at, _)| at)
        .collect();
    cuts.sort_unstable();
    let mut parts = Vec::new();
    let mut start = 0;
    for at in cuts {
        parts.push((start, piece.get(start..at).unwrap_or("")));
        start = at + 1;
    }
    parts.push((start, piece.get(start..).unwrap_or("")));
    parts
}

fn item(ear: &mut Ear, masked: &str, span: Span, of: Of, changing: bool) -> Item {
    let mut item = Item {
        span,
        core: span,
        about: false,
        open: false,
        then: false,
        some: false,
        place: None,
        value: None,
        partial: false,
    };
    if of == Of::Stet {
        item.value = values::read(of, span.slice(masked));
        return item;
    }
    if span.len() > scan::LONGEST && !of.is_free() {
        return item;
    }
    let mark = ear.mark();
    lead(ear, masked, &mut item, of, changing);
    if of == Of::Meter
        && let Some(rest) = one_bar::behind_but(item.core.slice(masked))
    {
        item.core = Span::new(item.core.end - rest.len() as u32, item.core.end);
        ear.hear(Span::new(item.span.start, item.core.start));
    }
    if of == Of::Meter
        && let Some((value, place)) = one_bar::read(item.core.slice(masked))
    {
        ear.hear(span);
        item.some |= place.is_none();
        (item.value, item.place) = (Some(value), place);
        return item;
    }
    if of.is_free() {
        take_question(masked, &mut item);
        item.value = values::read(of, item.core.slice(masked));
        return item;
    }
    // The half of a skill's words may say the opposite of the whole: `not 6/8`.
    if !read_whole(ear, masked, &mut item, of, changing) && of != Of::Skill {
        read_part(ear, masked, &mut item, of, changing);
    }
    // `like 108 ish` says it twice.
    if let Some(Value::Tempo(said)) = item.value.as_mut().filter(|_| item.about) {
        said.about = false;
    }
    item.partial = item.value.is_some() && !ear.understood(mark, masked, span);
    item
}

/// Between two stages, and what some write for it.
const THEN: [&str; 3] = [" then ", " -> ", " → "];

/// Words before a stage that say no more than that it begins or changes there.
const MOVES: [&str; 20] = [
    "goes back to",
    "goes",
    "moves into",
    "turns into",
    "turns",
    "becomes",
    "starts out in",
    "starts in",
    "starts at",
    "begins in",
    "opens in",
    "goes into",
    "goes to",
    "changes to",
    "change to",
    "switches to",
    "moves to",
    "back into",
    "returns to",
    "ends in",
];

/// Words before a stage that holds in one place and nowhere else.
const BUT_FOR: [&str; 5] = ["except for", "except", "xcept", "but for", "apart from"];

/// Takes `then`, `some` and `about` from the start.
fn lead(ear: &mut Ear, masked: &str, item: &mut Item, of: Of, changing: bool) {
    let whole = item.core.slice(masked);
    let mut rest = whole;
    if changing {
        if let Some(tail) = THEN.iter().find_map(|then| rest.strip_prefix(then.trim_start())) {
            (item.then, rest) = (true, tail);
        }
        // `starts in 3/4, goes to 4/4 at 29`: words that only say that it begins or changes.
        if let Some(tail) = MOVES.iter().find_map(|lead| scan::after_phrase(rest, lead))
            && tail.starts_with(scan::is_blank)
        {
            // What it ends in or goes to comes behind what stands before.
            item.then |= !rest.starts_with(['s', 'b', 'o']) || rest.starts_with("switches");
            rest = tail.trim_start_matches(scan::is_blank);
        }
        if let Some(tail) = BUT_FOR.iter().find_map(|lead| scan::after_phrase(rest, lead))
            && tail.starts_with(scan::is_blank)
        {
            rest = tail.trim_start_matches(scan::is_blank);
        }
        if let Ok((tail, _)) = (word("mostly"), blanks1).parse(rest) {
            (item.about, rest) = (true, tail);
        }
        if let Ok((tail, _)) = (alt((word("some"), word("occasional"))), blanks1).parse(rest) {
            (item.some, rest) = (true, tail);
        }
    }
    if let Ok((tail, ())) = about_word(rest)
        && !tail.is_empty()
    {
        (item.about, rest) = (true, tail);
    }
    if matches!(of, Of::Grade | Of::Tempo | Of::Lasts | Of::Measures) {
        let near = [
            "more like",
            "closer to",
            "nearer to",
            "nearer",
            "maybe",
            "probably",
        ];
        let near = near.iter().filter(|near| of == Of::Grade || near.contains(' '));
        if let Some(tail) = near.filter_map(|near| scan::after_phrase(rest, near)).next()
            && tail.starts_with(scan::is_blank)
        {
            (item.about, rest) = (true, tail.trim_start_matches(scan::is_blank));
        }
    }
    item.core = Span::new(item.core.end - rest.len() as u32, item.core.end);
    ear.hear(Span::new(item.span.start, item.core.start));
}

/// Reads all words of the item as one value, with a place behind it where values change.
fn read_whole(ear: &mut Ear, masked: &str, item: &mut Item, of: Of, changing: bool) -> bool {
    let before = item.clone();
    take_question(masked, item);
    let all = item.core;
    item.value = read_core(masked, item, of);
    // `1 maybe 1+` is a question that the director leaves open.
    item.open |= of == Of::Grade && item.value.is_some() && all.slice(masked).contains(" maybe ");
    if item.value.is_none() && changing {
        let (value, found) = place::split_place(all.slice(masked));
        if found.is_some() {
            item.place = found;
            item.core = Span::long(all.start, value.len() as u32);
            take_question(masked, item);
            item.value = read_core(masked, item, of);
        }
    }
    if item.value.is_none() && of == Of::Tempo {
        item.core = all;
        (item.value, item.place) = match around_its_place(all.slice(masked)) {
            Some((value, place)) => (Some(value), Some(place)),
            None => (None, None),
        };
    }
    if item.value.is_none() && changing {
        item.core = all;
        place_first(masked, item, of);
    }
    if item.value.is_none() && !item.about {
        *item = before.clone();
        near_enough(masked, item, of, changing);
    }
    if item.value.is_none() {
        *item = before;
        return false;
    }
    ear.hear(item.span);
    true
}

/// `from 50 dotted quarter = 92`, `slow part about 60`, `bridge (41-56) in Eb`: the place stands before its value.
fn place_first(masked: &str, item: &mut Item, of: Of) {
    let all = item.core.slice(masked);
    let led = place::at_word(all).or_else(|_| {
        let (rest, _) = (phrase("in"), blanks1).parse(all)?;
        Ok::<_, nom::Err<nom::error::Error<&str>>>((rest, ()))
    });
    let rest = led.map_or(all, |(rest, ())| rest);
    let before = Span::new(item.span.start, item.core.start).slice(masked);
    let but = BUT_FOR.iter().any(|lead| scan::find_word(before, lead).is_some());
    let words: Vec<Span> = words_of(rest, Span::whole(rest)).take(6).collect();
    let found = (1..words.len()).rev().find_map(|count| {
        let end = words.get(count - 1)?.end as usize;
        let head = rest.get(..end)?.trim_end_matches([':', '=']);
        let place = match (led_here(all, rest) || but, place::Point::read(head)) {
            (true, _) => place::after_at(head)?,
            // A figure alone may be anything.
            (false, Some(point)) if point.mark().is_some_and(|name| is_plain(name) && name.chars().count() > 2) => {
                Place::At(point)
            }
            _ => return None,
        };
        let own = matches!(&place, Place::At(point) if point.mark().is_some_and(|name| own_word(name) && !is_plain(name)));
        let tail = rest.get(end..)?.trim_start();
        let tail = scan::after_phrase(tail, "in").filter(|_| of != Of::Tempo && of != Of::Meter).map_or(tail, str::trim_start);
        let (tail, about) = match about_word(tail) {
            Ok((tail, ())) => (tail, true),
            Err(_) => (tail, false),
        };
        let value = values::read(of, tail)?;
        (!own).then_some((place, value, about, tail.len()))
    });
    if let Some((place, value, about, length)) = found {
        item.core = Span::new(item.core.end - length as u32, item.core.end);
        (item.place, item.value) = (Some(place), Some(value));
        item.about |= about;
    }
}

/// Whether a word such as `from` was taken before what is left.
fn led_here(all: &str, rest: &str) -> bool {
    rest.len() < all.len()
}

/// `64, give or take`: what says behind a value that it is only near enough.
fn near_enough(masked: &str, item: &mut Item, of: Of, changing: bool) {
    let text = item.core.slice(masked);
    if of == Of::Grade
        && let Some(near) = [
            " more like ",
            " closer to ",
            " nearer ",
            " maybe a ",
            " is about ",
        ]
        .iter()
        .find(|near| text.contains(**near))
        && let Some(value) = values::read(of, &text.replacen(near, " ", 1))
    {
        (item.about, item.value) = (true, Some(value));
        return;
    }
    // `64ish`: glued to its figure.
    if let Some(at) = text.find("ish")
        && let (Some(head), Some(tail)) = (text.get(..at), text.get(at + 3..))
        && head.ends_with(|c: char| c.is_ascii_digit())
        && (tail.is_empty() || tail.starts_with(scan::is_blank))
        && let Some(value) = values::read(of, &format!("{head}{tail}"))
    {
        (item.about, item.value) = (true, Some(value));
        return;
    }
    if let Some(near) = [" ish ", " ish"].iter().find(|near| text.contains(**near))
        && let Some(value) = values::read(of, text.replacen(near, " ", 1).trim())
    {
        (item.about, item.value) = (true, Some(value));
        return;
    }
    let behind = [
        "give or take",
        "or so",
        "more or less",
        "roughly",
        "or thereabouts",
        "approx.",
    ];
    let head = behind.iter().find_map(|words| {
        let at = text.len().checked_sub(words.len())?;
        let head = text.get(..at)?;
        let fits = text.get(at..)?.eq_ignore_ascii_case(words);
        (fits && head.ends_with([' ', ','])).then(|| head.trim_end_matches([' ', ',']))
    });
    let Some(head) = head else { return };
    item.core = Span::long(item.core.start, head.len() as u32);
    item.about = true;
    item.value = read_core(masked, item, of);
    if item.value.is_none() && changing {
        let (value, found) = place::split_place(head);
        item.place = found;
        item.core = Span::long(item.core.start, value.len() as u32);
        item.value = read_core(masked, item, of);
    }
}

/// `faster at 40 like 120`: a tempo whose place stands between its words and its figure.
fn around_its_place(text: &str) -> Option<(Value, Place)> {
    let gaps = text
        .char_indices()
        .filter(|(_, c)| scan::is_blank(*c) || *c == '@');
    gaps.take(MOST_WORDS).find_map(|(at, _)| {
        let (head, tail) = text.split_at_checked(at)?;
        let (rest, ()) = place::at_word(tail.trim_start()).ok()?;
        let (place, taken) = super::facts::pitched::longest(rest, 3, place::after_at)?;
        let figure = rest.get(taken..)?.trim();
        if head.trim().is_empty() || !figure.contains(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let value = values::read(Of::Tempo, &format!("{} {figure}", head.trim()))?;
        Some((value, place))
    })
}

fn read_core(masked: &str, item: &mut Item, of: Of) -> Option<Value> {
    let core = item.core.slice(masked);
    if core.is_empty() {
        return None;
    }
    values::read(of, core).or_else(|| {
        // `2? publisher`: the `?` stands behind the value it touches, inside the item.
        let value = core
            .contains('?')
            .then(|| values::read(of, core.replacen('?', "", 1).trim()))
            .flatten()?;
        item.open = true;
        Some(value)
    })
}

/// The most words of an item among which a value is looked for.
const MOST_WORDS: usize = 14;

/// Reads the longest stretch of words that is a value, the first one where several are; what stands around it is not understood.
fn read_part(ear: &mut Ear, masked: &str, item: &mut Item, of: Of, changing: bool) {
    let all = item.core;
    let words: Vec<Span> = words_of(masked, all).take(MOST_WORDS).collect();
    for from in 0..words.len() {
        for to in (from..words.len()).rev() {
            let (Some(first), Some(last)) = (words.get(from), words.get(to)) else {
                continue;
            };
            let span = Span::new(first.start, last.end);
            // A comma that stays inside a value goes on with something else.
            let text = span.slice(masked).trim_end_matches([',', ';']);
            let bare = text.trim_end_matches('?').trim_end();
            // One small letter is no value that somebody meant.
            if span == all
                || bare.len() < 2 && !bare.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit())
            {
                continue;
            }
            // A word that is no place of its own makes none before words that nobody understands.
            let left = to + 1 < words.len();
            if left && (changes(of) || of == Of::Road) && ends_in_own_word(bare) {
                continue;
            }
            let Some(value) = values::read(of, bare) else {
                continue;
            };
            item.core = Span::long(span.start, bare.len() as u32);
            item.value = Some(value);
            item.open |= bare.len() < text.len();
            ear.hear(span);
            if changing {
                let behind = Span::new(span.end, all.end);
                let (place, taken) = super::facts::at_place(behind.slice(masked));
                item.place = place;
                ear.hear(Span::long(behind.start, taken as u32));
            }
            return;
        }
    }
    item.core = all;
}

/// Whether the last word could only be a mark that the director named.
fn ends_in_own_word(words: &str) -> bool {
    let last = words.rsplit(scan::is_blank).next().unwrap_or("");
    let led = words
        .split(scan::is_blank)
        .any(|word| matches!(word, "at" | "after" | "before" | "from" | "to" | "@"));
    led && own_word(last) && !is_plain(last)
}

/// The words of a stretch, each with its place.
pub(super) fn words_of(masked: &str, span: Span) -> impl Iterator<Item = Span> + '_ {
    let slice = span.slice(masked);
    slice
        .split(scan::is_blank)
        .filter(|word| !word.is_empty())
        .map(move |word| {
            let at = word.as_ptr() as usize - slice.as_ptr() as usize;
            Span::long(span.start + at as u32, word.len() as u32)
        })
}

fn take_question(masked: &str, item: &mut Item) {
    let core = item.core.slice(masked);
    if let Some(head) = core.strip_suffix('?') {
        item.open = true;
        let head = head.trim_end().trim_end_matches('?').trim_end();
        item.core = Span::long(item.core.start, head.len() as u32);
    }
}

/// `about`, `approx.`, `around`, `ca.`, `circa`, `roughly`, `~`, with the blanks after it.
pub fn about_word(input: &str) -> scan::Read<'_, ()> {
    // All of these words begin with one of these letters.
    let may_start = |first: &u8| matches!(first | 0x20, b'a' | b'r' | b'c' | b'j' | b'n' | b'~');
    if !input.as_bytes().first().is_some_and(may_start) || scan::starts_with_figures(input) {
        return scan::refused(input);
    }
    nom::combinator::value(
        (),
        alt((
            (
                alt((
                    alt((phrase("about"), phrase("abt"))),
                    phrase("around"),
                    phrase("roughly"),
                    phrase("circa"),
                    phrase("a little over"),
                    phrase("a little under"),
                    phrase("a bit over"),
                    phrase("a bit under"),
                    phrase("just over"),
                    phrase("just under"),
                    phrase("almost"),
                    phrase("nearly"),
                    phrase("close to"),
                )),
                blanks1,
            )
                .map(|_| ()),
            (
                alt((word("approx"), word("approximately"), word("ca"))),
                opt(char('.')),
                blanks1,
            )
                .map(|_| ()),
            (char('~'), blanks).map(|_| ()),
        )),
    )
    .parse(input)
}
