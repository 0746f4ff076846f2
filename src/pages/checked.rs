//! Checks for tests of pages: whether a page is well formed, and whether what is on a sheet keeps its place.

use super::paper::{Area, Mark, Sheet};

/// Faults in a page as XML 1.0 (W3C) sees it: tags that do not close in order, attributes without quotes, bare
/// `&` and `<`, characters that may not stand there. Written for what the pages use: no comments, no CDATA.
pub fn faults(page: &str) -> Vec<String> {
    let mut faults = Vec::new();
    let allowed = |c: char| matches!(c, '\t' | '\n' | '\r' | ' '..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..);
    if let Some(c) = page.chars().find(|c| !allowed(*c)) {
        faults.push(format!("holds {c:?}"));
    }
    let page = page.strip_prefix("<!DOCTYPE html>").unwrap_or(page);
    let mut open: Vec<&str> = Vec::new();
    let mut rest = page;
    let mut roots = 0;
    while let Some(at) = rest.find('<') {
        let (text, tagged) = rest.split_at(at);
        faults.extend(bare(text));
        if open.is_empty() && !text.trim().is_empty() {
            faults.push(format!("words outside of everything: {text:?}"));
        }
        let Some(end) = tagged.find('>') else {
            faults.push("a tag that does not end".to_owned());
            return faults;
        };
        let tag = &tagged[1..end];
        rest = &tagged[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            match open.pop() {
                Some(last) if last == name => {}
                last => faults.push(format!("{name} closes {last:?}")),
            }
            continue;
        }
        let (tag, closed) = match tag.strip_suffix('/') {
            Some(tag) => (tag, true),
            None => (tag, false),
        };
        let (name, attributes) = tag.split_once(' ').unwrap_or((tag, ""));
        if name.is_empty() || !name.chars().all(|c| c.is_ascii_alphanumeric()) {
            faults.push(format!("a tag named {name:?}"));
        }
        faults.extend(in_quotes(attributes));
        if open.is_empty() {
            roots += 1;
        }
        if !closed {
            open.push(name);
        }
    }
    faults.extend(bare(rest));
    if !open.is_empty() || roots != 1 {
        faults.push(format!("left open: {open:?}; roots: {roots}"));
    }
    faults
}

fn bare(text: &str) -> Option<String> {
    let mut parts = text.split('&');
    parts.next();
    let known = ["amp;", "lt;", "gt;", "quot;", "#39;"];
    let part = parts.find(|part| !known.iter().any(|known| part.starts_with(known)));
    part.map(|part| format!("a bare & before {:?}", part.chars().take(9).collect::<String>()))
}

fn in_quotes(mut attributes: &str) -> Option<String> {
    loop {
        attributes = attributes.trim_start();
        if attributes.is_empty() {
            return None;
        }
        let Some((name, after)) = attributes.split_once("=\"") else {
            return Some(format!("not an attribute: {attributes:?}"));
        };
        let Some((value, after)) = after.split_once('"') else {
            return Some(format!("a value without an end: {after:?}"));
        };
        if name.contains(|c: char| c.is_whitespace() || c == '"') || value.contains('<') {
            return Some(format!("not an attribute: {name:?}"));
        }
        if let Some(fault) = bare(value) {
            return Some(fault);
        }
        attributes = after;
    }
}

/// Words on a sheet with the room they take.
pub fn words(sheet: &Sheet) -> Vec<(Area, &str)> {
    let marks = sheet.marks.iter();
    marks
        .filter_map(|mark| match mark {
            Mark::Words { words, .. } => Some((mark.area(), words.as_str())),
            _ => None,
        })
        .collect()
}

/// What is wrong with a sheet: marks beyond its edge, words over words, places over places, words that stand in
/// one place and reach into another.
pub fn misplaced(sheet: &Sheet, places: &[Area]) -> Vec<String> {
    let mut faults = Vec::new();
    let whole = Area::new(0.0, 0.0, sheet.size.0, sheet.size.1);
    for mark in &sheet.marks {
        if !whole.holds(&mark.area()) {
            faults.push(format!("beyond the edge: {mark:?}"));
        }
    }
    let corners: Vec<Vec<(f64, f64)>> = sheet
        .marks
        .iter()
        .map(Mark::corners)
        .filter(|corners| !corners.is_empty())
        .collect();
    let words = words(sheet);
    for (at, (area, text)) in words.iter().enumerate() {
        for (nth, (other, over)) in words.iter().enumerate().skip(at + 1) {
            if area.meets(other) && overlap(&corners[at], &corners[nth]) {
                faults.push(format!("{text:?} and {over:?} meet: {area:?} {other:?}"));
            }
        }
        let touched: Vec<&Area> = places.iter().filter(|place| place.meets(area)).collect();
        if touched.len() > 1 || touched.iter().any(|place| !place.holds(area)) {
            faults.push(format!("{text:?} leaves its place: {area:?} {touched:?}"));
        }
    }
    for (at, place) in places.iter().enumerate() {
        if !whole.holds(place) {
            faults.push(format!("a place beyond the edge: {place:?}"));
        }
        if let Some(other) = places.iter().skip(at + 1).find(|other| place.meets(other)) {
            faults.push(format!("places meet: {place:?} {other:?}"));
        }
    }
    faults
}

/// Whether two rectangles, turned as they are, share more than an edge: no side of either keeps them apart.
fn overlap(one: &[(f64, f64)], other: &[(f64, f64)]) -> bool {
    let keeps_apart = |from: (f64, f64), to: (f64, f64)| {
        let (x, y) = (from.1 - to.1, to.0 - from.0);
        let along = |corners: &[(f64, f64)]| {
            let all = corners.iter().map(|at| at.0 * x + at.1 * y);
            let least = all.clone().fold(f64::MAX, f64::min);
            (least, all.fold(f64::MIN, f64::max))
        };
        let hair = 0.01 * x.hypot(y);
        let ((a, b), (c, d)) = (along(one), along(other));
        b <= c + hair || d <= a + hair
    };
    let sides = |corners: &[(f64, f64)]| -> Vec<((f64, f64), (f64, f64))> {
        (0..corners.len())
            .map(|at| (corners[at], corners[(at + 1) % corners.len()]))
            .collect()
    };
    let mut all = sides(one).into_iter().chain(sides(other));
    !all.any(|(from, to)| keeps_apart(from, to))
}

/// The words in a place, without blanks, in reading order.
pub fn read(sheet: &Sheet, place: &Area) -> String {
    let inside = words(sheet).into_iter().filter(|(area, _)| place.holds(area));
    inside
        .flat_map(|(_, words)| words.chars())
        .filter(|c| !c.is_whitespace())
        .collect()
}

/// Words as they stand on a page, without blanks.
pub fn plain(words: &str) -> String {
    let mut sheet = Sheet::new(super::paper::Paper::Letter);
    sheet.words(0.0, 0.0, super::paper::Face::plain(1.0), words, f64::MAX);
    let all = self::words(&sheet)
        .into_iter()
        .flat_map(|(_, words)| words.chars());
    all.filter(|c| !c.is_whitespace()).collect()
}

#[test]
fn a_page_that_is_not_well_formed_is_seen() {
    for (page, fault) in [
        ("<html><p>a</p></html>", false),
        ("<!DOCTYPE html><html a=\"b\"><br/>&amp;</html>", false),
        ("<html><p>a</html></p>", true),
        ("<html>a & b</html>", true),
        ("<html>a < b</html>", true),
        ("<html a=b></html>", true),
        ("<html a=\"<\"></html>", true),
        ("<html a=\"b\"c\"></html>", true),
        ("<html>\u{1}</html>", true),
        ("<html>", true),
        ("<html></html><html></html>", true),
        ("a<html></html>", true),
    ] {
        assert_eq!(!faults(page).is_empty(), fault, "{page:?}: {:?}", faults(page));
    }
}

#[test]
fn words_over_words_and_beyond_the_edge_are_seen() {
    use super::paper::{Face, Paper};
    let mut sheet = Sheet::new(Paper::Letter);
    sheet.words(20.0, 30.0, Face::plain(12.0), "bells", 100.0);
    let place = Area::new(10.0, 10.0, 100.0, 100.0);
    assert_eq!(misplaced(&sheet, &[place]), Vec::<String>::new());
    let mut over = sheet.clone();
    over.words(30.0, 32.0, Face::plain(12.0), "snare", 100.0);
    assert_eq!(misplaced(&over, &[place]).len(), 1);
    let mut leaves = sheet.clone();
    leaves.words(90.0, 60.0, Face::plain(12.0), "snare", 100.0);
    assert_eq!(misplaced(&leaves, &[place]).len(), 1);
    let mut beyond = sheet;
    beyond.words(780.0, 60.0, Face::plain(12.0), "snare", 100.0);
    assert_eq!(misplaced(&beyond, &[place]).len(), 1);
}
