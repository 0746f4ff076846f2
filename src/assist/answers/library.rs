//! The library to be read.

use jiff::civil::Date;

use crate::catalogue::Snapshot;
use crate::planning::buy::words::money;
use crate::planning::library::{Past, Set, Shelf};
use crate::text::said::Answer;
use crate::text::sentences::{counted, joined};

/// Tells the sets: each in a few lines, or with all of its past where some were asked for by name.
pub fn tell(snapshot: &Snapshot, shelf: &Shelf, in_full: bool) -> Answer {
    let mut out = Answer::default();
    if shelf.sets.is_empty() {
        out.say(
            "No card has a library yet. Write \"library\" on a card, and below it \"place\" and \"copies\".",
        );
        return out;
    }
    out.say(sum(shelf));
    for set in &shelf.sets {
        out.gap();
        let mut head = vec![format!("\"{}\"", set.name)];
        head.extend(set.place.clone());
        head.extend(set.price.as_ref().map(ToString::to_string));
        let head = head.join(", ");
        out.head(head);
        for words in lines(set, snapshot.today, in_full) {
            out.item(words);
        }
    }
    out
}

fn sum(shelf: &Shelf) -> String {
    let worth: Vec<String> = shelf
        .worth
        .iter()
        .map(|(currency, cents)| money(*cents, currency))
        .collect();
    let unpriced = match shelf.unpriced {
        0 => String::new(),
        count => format!("; {count} without a price"),
    };
    let worth = match worth.is_empty() {
        true => String::new(),
        false => format!(", worth {}{unpriced}", joined(&worth)),
    };
    let count = |is: &dyn Fn(&Set) -> bool| shelf.sets.iter().filter(|set| is(set)).count();
    let mut amiss = Vec::new();
    for (number, words) in [
        (count(&|set| !set.missing.is_empty()), "with missing parts"),
        (
            count(&|set| !set.fewer.is_empty()),
            "with fewer copies than players",
        ),
        (count(&|set| set.score == Some(false)), "without a score"),
        (count(&|set| !set.lent.is_empty()), "lent"),
        (count(&|set| set.lent.iter().any(|lent| lent.over)), "overdue"),
    ] {
        if number > 0 {
            amiss.push(format!("{number} {words}"));
        }
    }
    let amiss = match amiss.is_empty() {
        true => String::new(),
        false => format!(" Among them: {}.", joined(&amiss)),
    };
    format!("{}{worth}.{amiss}", counted(shelf.sets.len(), "set"))
}

fn lines(set: &Set, today: Date, in_full: bool) -> Vec<String> {
    let mut said = Vec::new();
    said.push(match set.copies {
        0 if set.there.is_none() => "No card says whether this set is there.".to_owned(),
        0 if set.there == Some(false) => "This set is wanted; it is not there yet.".to_owned(),
        0 => "Nothing counted.".to_owned(),
        copies => format!("{} counted.", counted(copies as usize, "copy")),
    });
    if set.score == Some(false) {
        said.push("No score among them.".to_owned());
    }
    if !set.missing.is_empty() {
        said.push(format!("Missing: {}.", joined(&set.missing)));
    }
    for few in &set.fewer {
        said.push(format!(
            "{} for {} and {}: {} short.",
            counted(few.copies as usize, "copy"),
            few.instrument,
            counted(few.players as usize, "player"),
            few.short()
        ));
    }
    for lent in &set.lent {
        let due = match lent.due {
            Some(day) if lent.over => format!(", due {day} and not back"),
            Some(day) => format!(", due {day}"),
            None => ", with no day to come back".to_owned(),
        };
        said.push(format!("Lent {}{due}.", lent.words));
    }
    let past = if in_full { set.history.len() } else { 1 };
    for past in set.history.iter().take(past) {
        said.push(format!("Played {}.", played(past)));
    }
    match set.rests_until(today) {
        Some(day) => said.push(format!("Rests until {day}.")),
        None if set.history.is_empty() => said.push("Not played yet.".to_owned()),
        None => said.push("May be played again.".to_owned()),
    }
    said
}

fn played(past: &Past) -> String {
    let mut words: Vec<String> = Vec::new();
    words.push(
        past.day
            .map_or_else(|| "on a day no card says".to_owned(), |day| day.to_string()),
    );
    if !past.bands.is_empty() {
        words.push(format!("by the {}", joined(&past.bands)));
    }
    let mut all = vec![words.join(" ")];
    all.extend(past.said.iter().cloned());
    all.join(", ")
}
