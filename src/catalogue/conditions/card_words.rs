//! Reading conditions on the rest of the card: grades, people, lists, performances, library, money, skills.

use crate::notation::values::{Day, Grade, Money, Who};

use super::amount::{Amount, amount, count};
use super::cursor::Words;
use super::lexicon::{Sort, is_known};
use super::term::{Saying, Term, When};
use super::words::{Took, inner};
use super::{music_words, words};

pub(super) const READERS: [fn(Words<'_>, usize, u8) -> Took; 16] = [
    named,
    grade,
    performed,
    went_well,
    people,
    publisher,
    published,
    from,
    library,
    scores,
    memorized,
    costs,
    nothing_new,
    skills,
    says,
    texture,
];

fn named(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(
        at,
        &[
            "meets",
            "meets the criteria",
            "the criteria",
            "criteria",
            "all of",
            "the rules of",
        ],
    );
    let (end, name) = w.quoted(here)?;
    Some((end, Term::Named(name)))
}

fn hundredths(w: Words<'_>, at: usize) -> Option<(usize, u64)> {
    let here = w.maybe(at, &["grade", "level"]);
    let small = w.small(here);
    let figures = small
        .chars()
        .all(|c| c.is_ascii_digit() || matches!(c, '.' | '½' | '¼' | '¾'));
    let found = match (figures && !small.is_empty(), count(w, here)) {
        (true, _) => Grade::read(small).map(|grade| u64::from(grade.low)),
        (false, Some((_, number))) => Some(number.saturating_mul(100)),
        (false, None) => None,
    };
    if found.is_none() {
        w.expect(here, Sort::Grade);
    }
    Some((here + 1, found?))
}

fn grade(w: Words<'_>, at: usize, _: u8) -> Took {
    let lead = w.one_of(
        at,
        &["grade", "grades", "graded", "level", "levels", "difficulty"],
    );
    let here = lead.unwrap_or(at);
    // `no harder than 2` says by itself that a grade is meant.
    let compares = [
        "no harder than",
        "not harder than",
        "harder than",
        "easier than",
        "no easier than",
    ]
    .iter()
    .any(|phrase| w.phrase(here, phrase).is_some());
    let (end, amount) = amount(w, here, hundredths, words::nothing)?;
    let says = |from: usize, to: usize| (from..to).any(|at| matches!(w.small(at), "grade" | "level"));
    if lead.is_none() && !compares && !says(at, end) {
        return None;
    }
    let end = w.maybe(end, &["music", "level"]);
    let criteria = [
        "by our criteria",
        "by our own criteria",
        "by the criteria",
        "by criteria",
    ];
    if let Some(end) = w.one_of(end, &criteria) {
        return Some((end, Term::Criteria(amount)));
    }
    let (end, who) = giver(w, end);
    Some((end, Term::Grade { amount, who }))
}

/// Who gives a grade.
fn giver(w: Words<'_>, at: usize) -> (usize, Who) {
    if let Some(end) = w.one_of(
        at,
        &["publisher", "by the publisher", "by its publisher", "publisher's"],
    ) {
        return (end, Who::Publisher);
    }
    if let Some(end) = w.one_of(at, &["ours", "our own", "of ours", "in our judgment", "by us"]) {
        return (end, Who::Ours);
    }
    let here = w.maybe(at, &["on", "on the", "in", "by", "list", "on list"]);
    match w.quoted(here) {
        Some((end, name)) => (end, Who::List(name)),
        None => (at, Who::Unsaid),
    }
}

/// A day, a month or a year of up to three words.
fn day(w: Words<'_>, at: usize) -> Option<(usize, Day)> {
    w.longest(at, 3, Sort::Day, Day::read)
}

fn performed(w: Words<'_>, at: usize, _: u8) -> Took {
    let never = w.one_of(at, &["never", "not yet", "not", "never yet"]);
    if let Some(found) = last_performed(w, at) {
        return Some(found);
    }
    let here = w.maybe(
        never.unwrap_or(at),
        &["last", "been", "we have", "we", "has been", "we've", "we never"],
    );
    let here = w.one_of(
        here,
        &[
            "performed",
            "played",
            "performed it",
            "played it",
            "done",
            "programmed",
        ],
    )?;
    let here = w.maybe(here, &["last", "here", "by us"]);
    let (end, when) = when(w, here)?;
    let performed = Term::Performed(when);
    Some(match never {
        Some(_) => (end, Term::Not(inner(w, at, end, performed))),
        None => (end, performed),
    })
}

/// `last performed before 2023`: earlier performances do not count.
fn last_performed(w: Words<'_>, at: usize) -> Took {
    let here = w.maybe(at, &["was", "we"]);
    let here = w.one_of(
        here,
        &["last performed", "last played", "last done", "last programmed"],
    )?;
    if let Some((end, before)) = w.phrase(here, "before").and_then(|here| day(w, here)) {
        return Some((end, Term::Performed(When::LastBefore(before))));
    }
    let (end, within) = w.one_of(here, &["in", "on"]).and_then(|here| day(w, here))?;
    Some((end, Term::Performed(When::LastIn(within))))
}

fn when(w: Words<'_>, at: usize) -> Option<(usize, When)> {
    if w.small(at.saturating_sub(1)) == "last" && w.phrase(at, "year").is_some() {
        return Some((at + 1, When::LastYear));
    }
    if let Some(end) = w.one_of(at, &["last year", "last season", "last school year"]) {
        return Some((end, When::LastYear));
    }
    if let Some(end) = w.one_of(at, &["this year", "this season", "this school year"]) {
        return Some((end, When::ThisYear));
    }
    let within = w.one_of(
        at,
        &[
            "in the last",
            "in the past",
            "in",
            "for",
            "within",
            "in last",
            "within the last",
        ],
    );
    if let Some((here, years)) = within.and_then(|here| count(w, here))
        && let Some(end) = w.one_of(here, &["years", "year", "yrs"])
    {
        return Some((end, When::Years(u32::try_from(years).unwrap_or(u32::MAX))));
    }
    if let Some((end, day)) = w.phrase(at, "since").and_then(|here| day(w, here)) {
        return Some((end, When::Since(day)));
    }
    if let Some((end, day)) = w.phrase(at, "after").and_then(|here| day(w, here)) {
        // After a year means from the next one on; so does a day.
        return Some((end, When::Since(next(day)?)));
    }
    if let Some((end, day)) = w.phrase(at, "before").and_then(|here| day(w, here)) {
        return Some((end, When::Before(day)));
    }
    if let Some((end, day)) = w.one_of(at, &["in", "on"]).and_then(|here| day(w, here)) {
        return Some((end, When::In(day)));
    }
    if let Some((end, band)) = w
        .one_of(at, &["by", "with", "by the", "with the"])
        .and_then(|here| w.quoted(here))
    {
        return Some((end, When::By(band)));
    }
    Some((w.maybe(at, &["before", "yet", "ever", "at all"]), When::Ever))
}

/// The day after what a day, month or year can mean.
fn next(day: Day) -> Option<Day> {
    Some(Day::of(day.last()?.tomorrow().ok()?))
}

fn went_well(w: Words<'_>, at: usize, _: u8) -> Took {
    let end = w.one_of(
        at,
        &["went well", "that went well", "went great", "went over well"],
    )?;
    Some((end, Term::WentWell))
}

/// A name that some card uses, or one in quotes.
fn name(w: Words<'_>, at: usize, sort: Sort) -> Option<(usize, String)> {
    if w.get(at).is_some_and(|word| word.quoted) {
        return w.quoted(at).map(|(end, name)| (end, format!("\"{name}\"")));
    }
    w.longest(at, 8, sort, |words| {
        is_known(sort, words, w.snapshot).then(|| words.to_owned())
    })
}

fn people(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.one_of(
        at,
        &[
            "by",
            "composed by",
            "arranged by",
            "arr",
            "arr by",
            "written by",
            "music by",
            "composer",
            "arranger",
        ],
    )?;
    let (end, name) = name(w, here, Sort::Person)?;
    Some((end, Term::By(name)))
}

fn publisher(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.one_of(at, &["published by", "from", "publisher", "pub", "pub by", "by"])?;
    // A quoted name behind a bare `from` is a list, and behind `by` a person.
    if w.get(here).is_some_and(|word| word.quoted) && matches!(w.small(at), "from" | "by") && here == at + 1 {
        return None;
    }
    let (end, name) = name(w, here, Sort::Publisher)?;
    Some((end, Term::Publisher(name)))
}

/// `after 2015`, `published since 2015`, `from before 1990`, `newer than 2015`.
fn published(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &["published", "from", "written", "dated", "copyright"]);
    let year = |here: usize| {
        w.longest(here, 1, Sort::Year, |words| {
            let year = words.parse::<u64>().ok()?;
            (1500..=2200).contains(&year).then_some(year)
        })
    };
    if let Some((end, year)) = w
        .one_of(here, &["after", "newer than", "later than"])
        .and_then(year)
    {
        return Some((end, Term::Published(Amount::AtLeast(year.saturating_add(1)))));
    }
    if let Some((end, year)) = w.one_of(here, &["since", "no older than"]).and_then(year) {
        return Some((end, Term::Published(Amount::AtLeast(year))));
    }
    if let Some((end, year)) = w.one_of(here, &["before", "older than"]).and_then(year) {
        return Some((end, Term::Published(Amount::AtMost(year.saturating_sub(1)))));
    }
    let lead = w.one_of(here, &["in"]).or(Some(here).filter(|here| *here > at));
    let (end, from) = year(lead?)?;
    if let Some((end, to)) = w.one_of(end, &["-", "–", "to"]).and_then(year) {
        return Some((end, Term::Published(Amount::Between(from.min(to), from.max(to)))));
    }
    Some((end, Term::Published(Amount::Exactly(from))))
}

fn from(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.one_of(
        at,
        &[
            "from",
            "from the",
            "on",
            "on the",
            "listed in",
            "listed on",
            "listed",
            "in",
            "in the",
            "off",
            "off the",
        ],
    )?;
    if let Some(end) = w.one_of(here, &["list", "this list", "our list", "the list", "it"]) {
        return Some((end, Term::OnList(None)));
    }
    let (end, name) = w.quoted(here)?;
    Some((w.maybe(end, &["list"]), Term::OnList(Some(name))))
}

fn library(w: Words<'_>, at: usize, _: u8) -> Took {
    let owned = [
        "owned",
        "on the shelf",
        "in the library",
        "in our library",
        "ours",
        "we own it",
        "we own",
        "we have it",
        "we have",
        "in library",
        "own it",
    ];
    if let Some(end) = w.one_of(at, &owned) {
        return Some((end, Term::Owned));
    }
    let complete = [
        "complete",
        "a complete set",
        "complete set",
        "nothing missing",
        "no missing parts",
        "no parts missing",
        "all parts there",
    ];
    if let Some(end) = w.one_of(at, &complete) {
        return Some((end, Term::Complete));
    }
    let end = w.one_of(at, &["wanted", "on the wish list", "on our wish list"])?;
    Some((end, Term::Wanted))
}

/// `original scores`, `3 original scores`.
fn scores(w: Words<'_>, at: usize, _: u8) -> Took {
    let words = [
        "original scores",
        "original score",
        "scores for the judges",
        "scores for judges",
        "original scores for the judges",
        "original scores for judges",
        "a set of original scores",
        "a set of scores",
    ];
    let here = w.maybe(at, &["has", "with", "needs"]);
    if let Some(end) = w.one_of(here, &words) {
        return Some((end, Term::Scores(Amount::A)));
    }
    let (end, amount) = amount(w, here, count, |w, at| w.one_of(at, &words))?;
    Some((
        end,
        Term::Scores(match amount {
            Amount::Just(number) => Amount::AtLeast(number),
            amount => amount,
        }),
    ))
}

fn memorized(w: Words<'_>, at: usize, _: u8) -> Took {
    let words = [
        "memorized",
        "memorised",
        "from memory",
        "by memory",
        "by heart",
        "performed from memory",
        "played from memory",
    ];
    Some((w.one_of(at, &words)?, Term::Memorized))
}

/// A sum in hundredths; its currency is read apart.
fn cents(w: Words<'_>, at: usize) -> Option<(usize, u64)> {
    let small = w.small(at).trim_start_matches(['$', '€', '£']);
    let small = small.trim_end_matches(['$', '€', '£']);
    let is_figure = small.starts_with(|c: char| c.is_ascii_digit())
        && small
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
    match Money::read(small).filter(|_| is_figure) {
        Some(money) => Some((at + 1, money.cents)),
        None => {
            w.expect(at, Sort::Money);
            None
        }
    }
}

fn costs(w: Words<'_>, at: usize, _: u8) -> Took {
    const SIGNS: [(char, &str); 3] = [('$', "USD"), ('€', "EUR"), ('£', "GBP")];
    const UNITS: [(&str, &[&str]); 3] = [
        ("USD", &["dollars", "dollar", "bucks", "usd"]),
        ("EUR", &["euros", "euro", "eur"]),
        ("GBP", &["pounds", "pound", "quid", "gbp"]),
    ];
    let lead = w.one_of(
        at,
        &[
            "costs",
            "costing",
            "cost",
            "price",
            "priced",
            "is",
            "cheaper than",
        ],
    );
    let cheaper = w.phrase(at, "cheaper than").is_some();
    let here = match cheaper {
        true => at,
        false => lead.unwrap_or(at),
    };
    let currency = std::cell::RefCell::new(None::<String>);
    let (end, amount) = amount(
        w,
        here,
        |w, at| {
            let found = cents(w, at)?;
            if let Some((_, code)) = SIGNS.iter().find(|(sign, _)| w.small(at).contains(*sign)) {
                currency.replace(Some((*code).to_owned()));
            }
            Some(found)
        },
        |w, at| {
            for (code, words) in UNITS {
                if let Some(end) = w.one_of(at, words) {
                    currency.replace(Some(code.to_owned()));
                    return Some(end);
                }
            }
            // Any currency of three capitals.
            let code = w
                .get(at)
                .filter(|word| {
                    !word.quoted && word.text.len() == 3 && word.text.bytes().all(|b| b.is_ascii_uppercase())
                })
                .and_then(|word| Money::read(&format!("1 {}", word.text)));
            match code {
                Some(money) => {
                    currency.replace(Some(money.currency));
                    Some(at + 1)
                }
                None => Some(at),
            }
        },
    )?;
    let currency = currency.into_inner();
    // A bare number is money only where the words say so.
    if lead.is_none() && currency.is_none() {
        return None;
    }
    let amount = match amount {
        // "Costs 60" asks what it may cost at the most.
        Amount::Just(sum) if lead.is_some() => Amount::AtMost(sum),
        amount => amount,
    };
    Some((
        end,
        Term::Costs {
            amount,
            currency: currency.unwrap_or_else(|| "USD".to_owned()),
        },
    ))
}

fn nothing_new(w: Words<'_>, at: usize, _: u8) -> Took {
    let end = w.one_of(
        at,
        &[
            "asks nothing new",
            "nothing new",
            "asks for nothing new",
            "no new skills",
            "no skills we have not taught",
        ],
    )?;
    Some((end, Term::NothingNew))
}

fn skills(w: Words<'_>, at: usize, depth: u8) -> Took {
    let asks = [
        "asks for",
        "asks",
        "requires",
        "asking",
        "asking for",
        "needs the skill",
    ];
    let (here, teaches) = match w.one_of(at, &asks) {
        Some(here) => (here, false),
        None => (
            w.one_of(
                at,
                &[
                    "teaches",
                    "teach",
                    "teaching",
                    "good for teaching",
                    "for teaching",
                ],
            )?,
            true,
        ),
    };
    let here = w.maybe(here, &["the", "some", "skill"]);
    let make = |end, words| {
        Some((
            end,
            match teaches {
                true => Term::Teaches(words),
                false => Term::Asks(words),
            },
        ))
    };
    if let Some((end, skill)) = name(w, here, Sort::Skill) {
        return make(end, skill);
    }
    // `asks triple meter` is told by the meters too.
    let meter = music_words::READERS
        .iter()
        .find_map(|read| read(w, here, depth).filter(|(end, _)| *end == w.end()));
    let (end, Term::Meter(_) | Term::MeterSort(_)) = meter? else {
        return None;
    };
    make(end, w.joined(here, end))
}

/// What a field says in the cards' own words.
fn says(w: Words<'_>, at: usize, _: u8) -> Took {
    const FIELDS: [(Saying, Sort, &[&str]); 4] = [
        (
            Saying::Features,
            Sort::Feature,
            &[
                "features",
                "featuring",
                "feature for",
                "a feature for",
                "shows off",
                "showcases",
            ],
        ),
        (
            Saying::Techniques,
            Sort::Technique,
            &["techniques", "technique", "uses", "with", "has", "effects"],
        ),
        (
            Saying::Suits,
            Sort::Suits,
            &["suits", "suitable for", "good for", "suited to", "for"],
        ),
        (
            Saying::Liked,
            Sort::Liked,
            &["liked by", "loved by", "a favorite of", "favorite of"],
        ),
    ];
    for (field, sort, leads) in FIELDS {
        let Some(here) = w.one_of(at, leads) else { continue };
        // `uses bells` asks for a part, even where some technique has bells in it.
        let name = |w: Words<'_>, at: usize, sort: Sort| {
            let bare = field == Saying::Techniques
                && !matches!(w.small(here - 1), "techniques" | "technique" | "effects");
            name(w, at, sort).filter(|(_, name)| !bare || !super::part_words::is_instrument(name, w.snapshot))
        };
        let the = w.maybe(here, &["the", "a", "an", "our"]);
        if let Some((end, name)) = name(w, here, sort).or_else(|| name(w, the, sort)) {
            return Some((w.maybe(end, &["section"]), Term::Says(field, name)));
        }
    }
    let here = w.one_of(at, &["liked"])?;
    Some((here, Term::Says(Saying::Liked, String::new())))
}

/// `texture thin`, `thin texture`, `full texture`.
fn texture(w: Words<'_>, at: usize, _: u8) -> Took {
    const TEXTURES: [&str; 14] = [
        "thin",
        "light",
        "transparent",
        "thick",
        "full",
        "heavy",
        "tutti",
        "unison",
        "chorale",
        "homophonic",
        "polyphonic",
        "contrapuntal",
        "chamber",
        "block scoring",
    ];
    let find = |here: usize| {
        TEXTURES
            .iter()
            .find_map(|texture| Some((w.phrase(here, texture)?, (*texture).to_owned())))
    };
    if let Some(here) = w.one_of(at, &["texture", "textures", "scoring"]) {
        let (end, words) = find(here).or_else(|| w.quoted(here))?;
        return Some((end, Term::Says(Saying::Texture, words)));
    }
    let (here, words) = find(w.maybe(at, &["a"]))?;
    let end = w.one_of(here, &["texture", "textures", "scoring"])?;
    Some((end, Term::Says(Saying::Texture, words)))
}
