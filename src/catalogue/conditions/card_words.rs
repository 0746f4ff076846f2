//! Reading conditions on the rest of the card: grades, people, lists, performances, library, money.

use nom::Parser;
use nom::bytes::complete::take_while1;
use nom::combinator::opt;

use crate::notation::scan::{self, Read, blanks, phrase};
use crate::notation::values::{Day, Grade, Money, Who};

use super::amount::{Amount, amount};
use super::term::{Term, When};
use super::words::{after, before};

/// Reads a condition on what is not the music.
pub(super) fn term(text: &str, depth: u8) -> Option<Term> {
    let readers = [named, grade, performed, people, from, library, costs, skills];
    readers.iter().find_map(|read| read(text, depth))
}

/// A quoted name that is all of `text`.
fn quoted_whole(text: &str) -> Option<String> {
    match scan::quoted(text) {
        Ok((rest, name)) if rest.trim().is_empty() && !name.is_empty() => Some(name.to_owned()),
        _ => None,
    }
}

fn named(text: &str, _: u8) -> Option<Term> {
    let text = ["meets", "the criteria", "criteria", "all of"]
        .iter()
        .find_map(|lead| after(text, lead))
        .unwrap_or(text);
    quoted_whole(text).map(Term::Named)
}

/// A grade's number in hundredths.
fn hundredths(input: &str) -> Read<'_, u64> {
    let (rest, _) = opt((phrase("grade"), blanks)).parse(input)?;
    let (rest, figures) =
        take_while1(|c: char| c.is_ascii_digit() || matches!(c, '.' | '½' | '¼' | '¾')).parse(rest)?;
    match Grade::read(figures) {
        Some(grade) => Ok((rest, u64::from(grade.low))),
        None => Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Digit,
        ))),
    }
}

fn grade(text: &str, _: u8) -> Option<Term> {
    let small = text.to_lowercase();
    if !small.contains("grade") && !small.contains("level") {
        return None;
    }
    let text = small_level(text);
    let text = text
        .strip_prefix("grades ")
        .or_else(|| text.strip_prefix("graded "))
        .map_or(text.clone(), |rest| format!("grade {rest}"));
    let text = after(&text, "grade")
        .filter(|rest| super::amount::begins_as_bound(rest))
        .unwrap_or(&text);
    let (rest, amount) = amount(text, hundredths, |input| Ok((input, ""))).ok()?;
    let rest = rest.trim();
    let who = match rest {
        "" => Who::Unsaid,
        rest => Grade::read(&format!("1 {rest}"))?.who,
    };
    // Words that name nobody who gives grades were something else.
    if matches!(who, Who::Other(_)) {
        return None;
    }
    Some(Term::Grade { amount, who })
}

fn small_level(text: &str) -> String {
    text.replace("levels ", "grades ").replace("level ", "grade ")
}

fn performed(text: &str, _: u8) -> Option<Term> {
    let never = ["never", "not yet"].iter().find_map(|lead| after(text, lead));
    let words = never.unwrap_or(text);
    let rest = ["performed", "played", "last performed"]
        .iter()
        .find_map(|lead| after(words, lead))?;
    let rest = after(rest, "last").unwrap_or(rest);
    let day = |lead| after(rest, lead).and_then(Day::read);
    let when = if rest.is_empty() || rest.eq_ignore_ascii_case("before") || rest.eq_ignore_ascii_case("yet") {
        When::Ever
    } else if let Some(day) = day("since") {
        When::Since(day)
    } else if let Some(day) = day("after") {
        // After a year means from the next one on; so does a day.
        When::Since(next(day)?)
    } else if let Some(day) = day("before") {
        When::Before(day)
    } else if let Some(day) = day("in").or_else(|| day("on")) {
        When::In(day)
    } else {
        When::By(quoted_whole(after(rest, "by").or_else(|| after(rest, "with"))?)?)
    };
    let performed = Term::Performed(when);
    Some(match never {
        Some(_) => Term::Not(super::words::inner(performed)),
        None => performed,
    })
}

/// The day after what a day, month or year can mean.
fn next(day: Day) -> Option<Day> {
    Some(Day::of(day.last()?.tomorrow().ok()?))
}

fn people(text: &str, _: u8) -> Option<Term> {
    let name = [
        "by",
        "composed by",
        "arranged by",
        "arr.",
        "written by",
        "composer",
    ]
    .iter()
    .find_map(|lead| after(text, lead).or_else(|| text.strip_prefix(lead).filter(|_| lead.ends_with('.'))))?
    .trim();
    let is_name =
        !name.is_empty() && name.starts_with(|c: char| c.is_uppercase()) && !name.contains(scan::is_quote);
    is_name.then(|| Term::By(name.to_owned()))
}

fn from(text: &str, _: u8) -> Option<Term> {
    let rest = ["from", "on", "listed in", "listed on", "in", "listed"]
        .iter()
        .find_map(|lead| after(text, lead))?;
    if let Some(name) = quoted_whole(rest).or_else(|| quoted_whole(after(rest, "the")?)) {
        return Some(Term::OnList(Some(name)));
    }
    match rest.to_lowercase().as_str() {
        "the list" | "this list" | "list" | "our list" | "it" => return Some(Term::OnList(None)),
        _ => {}
    }
    let publisher = after(text, "from").filter(|name| name.starts_with(|c: char| c.is_uppercase()))?;
    (!publisher.contains(scan::is_quote)).then(|| Term::Publisher(publisher.to_owned()))
}

fn library(text: &str, _: u8) -> Option<Term> {
    match text.to_lowercase().as_str() {
        "owned" | "on the shelf" | "in the library" | "in our library" | "ours" => Some(Term::Owned),
        "complete" | "a complete set" | "nothing missing" | "no missing parts" | "no parts missing" => {
            Some(Term::Complete)
        }
        "wanted" | "on the wish list" => Some(Term::Wanted),
        _ => None,
    }
}

/// A sum in hundredths; its currency is read apart.
fn cents(input: &str) -> Read<'_, u64> {
    let (rest, sum) =
        take_while1(|c: char| c.is_ascii_digit() || matches!(c, '$' | '€' | '£' | '.' | ',')).parse(input)?;
    match Money::read(sum) {
        Some(money) => Ok((rest, money.cents)),
        None => Err(nom::Err::Error(nom::error::Error::new(
            input,
            nom::error::ErrorKind::Digit,
        ))),
    }
}

fn costs(text: &str, _: u8) -> Option<Term> {
    const SIGNS: [(&str, &str); 3] = [("$", "USD"), ("€", "EUR"), ("£", "GBP")];
    let lead = ["costs", "costing", "cost", "price"]
        .iter()
        .find_map(|lead| after(text, lead));
    let words = lead.unwrap_or(text);
    let sign = SIGNS
        .iter()
        .find(|(sign, _)| words.contains(sign))
        .map(|(_, code)| (*code).to_owned());
    let last = words.rsplit(' ').next().unwrap_or("");
    let code = Money::read(&format!("1 {last}")).map(|money| money.currency);
    let (words, currency) = match (code, sign) {
        (Some(code), _) => (before(words, last)?, Some(code)),
        (None, sign) => (words, sign),
    };
    // A bare number is money only where the words say so.
    if lead.is_none() && currency.is_none() {
        return None;
    }
    let (rest, amount) = amount(words, cents, |input| Ok((input, ""))).ok()?;
    let amount = match amount {
        // "Costs 60" asks what it may cost at the most.
        Amount::Just(sum) if lead.is_some() => Amount::AtMost(sum),
        amount => amount,
    };
    rest.trim().is_empty().then(|| Term::Costs {
        amount,
        currency: currency.unwrap_or_else(|| "USD".to_owned()),
    })
}

fn skills(text: &str, _: u8) -> Option<Term> {
    let lead = |leads: &[&'static str]| {
        leads
            .iter()
            .find_map(|lead| after(text, lead))
            .filter(|rest| !rest.is_empty())
            .map(str::to_owned)
    };
    if let Some(words) = lead(&["asks for", "asks", "requires", "asking"]) {
        return Some(Term::Asks(words));
    }
    if let Some(words) = lead(&["teaches", "teaching", "good for teaching"]) {
        return Some(Term::Teaches(words));
    }
    lead(&["features", "featuring"]).map(Term::Features)
}
