//! Answers from the rest of the card: style, grade, people, lists, performances, library, money.

use jiff::civil::Date;

use crate::catalogue::model::{Facts, ListCard};
use crate::catalogue::{EntryId, names};
use crate::notation::Kind;
use crate::notation::values::grade::show_hundredths;
use crate::notation::values::{Day, Grade, Titled, Who};

use super::amount::Amount;
use super::judge::Evaluator;
use super::say_facts::bare;
use super::styles::{self, Fit};
use super::subject::Subject;
use super::term::{Term, When};
use super::truth::Truth;

impl Evaluator<'_> {
    /// Answers conditions on what is not the music; none for others.
    pub(super) fn card(&self, term: &Term, subject: &Subject<'_>) -> Option<Truth> {
        let piece = subject.piece;
        Some(match term {
            Term::Style(style) => style_of(style, subject),
            Term::Grade { amount, who } => self.grade(*amount, who, subject),
            Term::Performed(when) => performed(when, subject, self.snapshot.today),
            Term::By(name) => {
                let wanted = names::key(bare(name));
                let all: Vec<String> = piece.by.iter().map(|person| person.name.clone()).collect();
                match all.is_empty() {
                    true => Truth::Unknown("who wrote it".to_owned()),
                    false => Truth::of(
                        all.iter().any(|name| names::key(name).contains(&wanted)),
                        format!("is by {}", all.join(" and ")),
                    ),
                }
            }
            Term::OnList(name) => self.on_a_list(name.as_deref(), subject),
            Term::Owned => match piece.has_set() {
                Some(true) => Truth::Yes("is in the library".to_owned()),
                Some(false) => Truth::No("is still wanted".to_owned()),
                None => Truth::Unknown("whether it is in the library".to_owned()),
            },
            Term::Complete => match (piece.library.missing.is_empty(), piece.library.said) {
                (false, _) => Truth::No("has parts missing".to_owned()),
                (true, true) => Truth::Yes("has no part missing".to_owned()),
                (true, false) => Truth::Unknown("whether parts are missing".to_owned()),
            },
            Term::Wanted => Truth::of(
                !piece.wanted.is_empty(),
                if piece.wanted.is_empty() {
                    "is not on the wish list"
                } else {
                    "is wanted"
                },
            ),
            Term::Costs { amount, currency } => costs(*amount, currency, subject),
            _ => return None,
        })
    }

    fn grade(&self, amount: Amount, who: &Who, subject: &Subject<'_>) -> Truth {
        const MISSING: &str = "its grade";
        let certain = subject.piece.grades.iter().filter(|said| said.is_certain());
        let mut all: Vec<Grade> = certain.map(|said| said.value.clone()).collect();
        all.extend(self.grades_on_lists(subject));
        let open = subject.piece.grades.iter().any(|said| !said.is_certain());
        let ours: Vec<Grade> = all
            .iter()
            .filter(|grade| grade.who == Who::Ours)
            .cloned()
            .collect();
        let asked: Vec<Grade> = match who {
            // The band's own grade goes before what others say of bands they do not know.
            Who::Unsaid if !ours.is_empty() => ours,
            Who::Unsaid => all,
            who => all
                .into_iter()
                .filter(|grade| same_who(&grade.who, who))
                .collect(),
        };
        if asked.is_empty() {
            return Truth::Unknown(MISSING.to_owned());
        }
        let answers: Vec<Truth> = asked
            .iter()
            .map(|grade| {
                Truth::within(
                    amount.holds_in(u64::from(grade.low), Some(u64::from(grade.high)), false),
                    format!("is grade {}", show(grade)),
                    MISSING,
                )
            })
            .collect();
        match amount {
            // For a single grade it is enough that somebody gives it.
            Amount::Just(_) | Amount::Exactly(_) | Amount::Between(..) => {
                Truth::any(answers).no_only_if(!open, MISSING)
            }
            _ if answers.iter().all(Truth::is_yes) => Truth::all(answers),
            _ if answers.iter().all(Truth::is_no) => Truth::any(answers).no_only_if(!open, MISSING),
            _ => Truth::Unknown("which of its grades counts".to_owned()),
        }
    }

    /// The lists on whose cards a piece stands, with what is said of it there.
    pub(super) fn held_by(&self, subject: &Subject<'_>) -> Vec<(EntryId, String, Titled)> {
        let uses = self.snapshot.uses_of(subject.id);
        let mut lists: Vec<EntryId> = uses
            .iter()
            .filter(|(_, name)| name.field == "holds")
            .map(|(user, _)| *user)
            .collect();
        lists.dedup();
        let mut found = Vec::new();
        for id in lists {
            let Some(entry) = self.snapshot.entry(id) else {
                continue;
            };
            let Facts::List(ListCard { holds, .. }) = entry.facts() else {
                continue;
            };
            for held in holds {
                let meant = self
                    .snapshot
                    .pieces_titled(&held.value.name, held.value.by.as_deref());
                if meant.contains(&subject.id) {
                    found.push((id, entry.name.clone(), held.value.clone()));
                }
            }
        }
        found
    }

    fn grades_on_lists(&self, subject: &Subject<'_>) -> Vec<Grade> {
        self.held_by(subject)
            .into_iter()
            .filter_map(|(_, list, held)| {
                let grade = held.grade?;
                Some(Grade {
                    who: Who::List(list),
                    ..grade
                })
            })
            .collect()
    }

    fn on_a_list(&self, name: Option<&str>, subject: &Subject<'_>) -> Truth {
        let own = self
            .list
            .and_then(|id| self.snapshot.entry(id))
            .map(|entry| entry.name.clone());
        let Some(name) = name.map(str::to_owned).or(own) else {
            return Truth::Unknown("which list is meant".to_owned());
        };
        let wanted = names::key(&name);
        let piece = subject.piece;
        let on_card = piece
            .listed
            .iter()
            .any(|said| names::key(&said.value.name) == wanted)
            || piece
                .grades
                .iter()
                .any(|said| matches!(&said.value.who, Who::List(list) if names::key(list) == wanted));
        let held = self
            .held_by(subject)
            .iter()
            .any(|(_, list, _)| names::key(list) == wanted);
        if on_card || held {
            return Truth::Yes(format!("is on \"{name}\""));
        }
        let has_card = self
            .snapshot
            .names()
            .of(Kind::List, &name)
            .next()
            .is_some_and(|id| {
                // A list's card without titles tells nothing of what is on it.
                let entry = self.snapshot.entry(id);
                matches!(entry.map(|entry| entry.facts()), Some(Facts::List(list)) if !list.holds.is_empty())
            });
        match has_card {
            true => Truth::No(format!("is not on \"{name}\"")),
            false => Truth::Unknown(format!("what is on \"{name}\"")),
        }
    }
}

fn show(grade: &Grade) -> String {
    let number = match grade.low == grade.high {
        true => show_hundredths(grade.low),
        false => format!("{}-{}", show_hundredths(grade.low), show_hundredths(grade.high)),
    };
    match &grade.who {
        Who::Unsaid => number,
        Who::Publisher => format!("{number} by its publisher"),
        Who::Ours => format!("{number} in your own judgment"),
        Who::List(name) => format!("{number} on \"{name}\""),
        Who::Other(who) => format!("{number} by {who}"),
    }
}

fn same_who(one: &Who, other: &Who) -> bool {
    match (one, other) {
        (Who::List(one), Who::List(other)) => names::key(one) == names::key(other),
        (one, other) => one == other,
    }
}

fn style_of(wanted: &str, subject: &Subject<'_>) -> Truth {
    let wanted = styles::singular(wanted);
    let all: Vec<String> = subject
        .piece
        .styles
        .iter()
        .map(|said| said.value.to_lowercase())
        .collect();
    let fits: Vec<Fit> = all.iter().map(|said| styles::fit(said, &wanted)).collect();
    let certain = subject.piece.styles.iter().all(|said| said.is_certain());
    let named: Vec<String> = all.iter().map(|style| styles::with_article(style)).collect();
    let named = named.join(", ");
    let is = fits
        .iter()
        .zip(&subject.piece.styles)
        .any(|(fit, said)| *fit == Fit::Is && said.is_certain());
    if is {
        return Truth::Yes(format!("is {named}"));
    }
    // A title that bears the word speaks for itself where the style says something else; so do forms.
    let form = subject.piece.form.iter().map(|said| said.value.as_str());
    let title = std::iter::once(subject.entry.name.as_str()).chain(form);
    let in_title = title
        .flat_map(|words| words.split(|c: char| !c.is_alphanumeric()))
        .any(|word| styles::singular(word) == wanted);
    let never = certain && !in_title && !all.is_empty() && fits.iter().all(|fit| *fit == Fit::Other);
    match never {
        true => Truth::No(format!("is {named}")),
        false => Truth::Unknown("all its styles".to_owned()),
    }
}

fn performed(when: &When, subject: &Subject<'_>, today: Date) -> Truth {
    // The last time was before a day where there was one, and none from that day on.
    let and_never_since = |first: Truth, since: Option<Date>| match since {
        Some(since) => Truth::all([first, !performed(&When::Since(Day::of(since)), subject, today)]),
        None => Truth::Unknown("when it was performed".to_owned()),
    };
    match when {
        When::LastBefore(day) => {
            return and_never_since(performed(&When::Before(*day), subject, today), day.first());
        }
        When::LastIn(day) => {
            let after = day.last().and_then(|last| last.tomorrow().ok());
            return and_never_since(performed(&When::In(*day), subject, today), after);
        }
        _ => {}
    }
    let all = &subject.piece.performed;
    let answers = all.iter().map(|said| {
        let performance = &said.value;
        let day = performance.day;
        let why = match day {
            Some(day) => format!("was performed {day}"),
            None => "was performed".to_owned(),
        };
        let by_days = |fits: &dyn Fn(Day) -> Option<(bool, bool)>| match day.and_then(fits) {
            Some(some_and_all) if said.is_certain() => {
                Truth::within(some_and_all, why.clone(), "when it was performed")
            }
            _ => Truth::Unknown("when it was performed".to_owned()),
        };
        match when {
            When::Ever => Truth::Yes(why.clone()),
            When::Since(since) => by_days(&|day| {
                let since = since.first()?;
                Some((day.last()? >= since, day.first()? >= since))
            }),
            When::Before(before) => by_days(&|day| {
                let before = before.first()?;
                Some((day.first()? < before, day.last()? < before))
            }),
            When::In(within) => by_days(&|day| {
                let (first, last) = (within.first()?, within.last()?);
                let some = day.first()? <= last && day.last()? >= first;
                Some((some, day.first()? >= first && day.last()? <= last))
            }),
            When::Years(years) => by_days(&|day| {
                let years = i32::try_from(*years).ok()?;
                let since = today.checked_sub(jiff::Span::new().try_years(years).ok()?).ok()?;
                Some((day.last()? >= since, day.first()? >= since))
            }),
            // Answered above.
            When::LastBefore(_) | When::LastIn(_) => Truth::Unknown("when it was performed".to_owned()),
            When::LastYear => by_days(&|day| within_year(day, today, 1)),
            When::ThisYear => by_days(&|day| within_year(day, today, 0)),
            When::By(band) => match performance.bands.is_empty() {
                true => Truth::Unknown("who performed it".to_owned()),
                false => Truth::of(
                    performance
                        .bands
                        .iter()
                        .any(|name| names::key(name) == names::key(band)),
                    format!("was performed by {}", performance.bands.join(" and ")),
                ),
            },
        }
    });
    // The card is the record: where it tells of no performance there was none.
    match all.is_empty() {
        true => Truth::No("was not performed".to_owned()),
        false => Truth::any(answers),
    }
}

/// Whether a day lies so many years before this one, by the calendar and by the school year (from August
/// on). Some directors mean the one and some the other, so only what holds for both is certain.
fn within_year(day: Day, today: Date, back: i16) -> Option<(bool, bool)> {
    let school = |date: Date| {
        if date.month() >= 8 {
            date.year()
        } else {
            date.year() - 1
        }
    };
    let (first, last) = (day.first()?, day.last()?);
    let by_calendar = |date: Date| date.year() == today.year() - back;
    let by_school = |date: Date| school(date) == school(today) - back;
    let some = [first, last]
        .into_iter()
        .any(|date| by_calendar(date) || by_school(date));
    let all = [first, last]
        .into_iter()
        .all(|date| by_calendar(date) && by_school(date));
    Some((some, all))
}

fn costs(amount: Amount, currency: &str, subject: &Subject<'_>) -> Truth {
    let piece = subject.piece;
    let said = piece.price.as_ref().or(piece.library.price.as_ref());
    let Some(said) = said.filter(|said| !said.open && said.value.currency == currency) else {
        return Truth::Unknown("what it costs".to_owned());
    };
    let sum = said.value.cents;
    let off = if said.about { sum / 10 } else { 0 };
    Truth::within(
        amount.holds_in(sum.saturating_sub(off), Some(sum.saturating_add(off)), false),
        format!("costs {}", said.value),
        "what it costs exactly",
    )
}
