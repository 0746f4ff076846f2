//! A choice to be read.

use crate::assist::programmed;
use crate::catalogue::{EntryId, Snapshot};
use crate::planning::buy::words::money;
use crate::planning::choose::{
    A_MINUTE, Choice, LeftOut, Outcome, PREFERRED, Pick, Program, WANTED, Wish, bands_of,
};
use crate::text::said::{Answer, Table, Wide, column};
use crate::text::sentences::{counted, joined};

/// At most so many names stand in one line.
const MOST_NAMES: usize = 6;
/// At most so many demands are told with what they cost.
const MOST_GIVEN_UP: usize = 4;

/// The bands that play a concert together, or in words why there are none.
pub fn bands(snapshot: &Snapshot, concert: EntryId) -> Result<Vec<EntryId>, String> {
    let bands = bands_of(snapshot, concert);
    let name = snapshot.entry(concert).map_or("", |entry| entry.name.as_str());
    match bands.is_empty() {
        true => Err(format!(
            "The concert's card does not say which band plays \"{name}\". Write a line on it: for \"the name of the band\"."
        )),
        false => Ok(bands),
    }
}

/// Tells what came of a wish.
pub fn tell(snapshot: &Snapshot, wish: &Wish<'_>, choice: &Choice) -> Answer {
    let mut answer = Answer::default();
    let out = &mut answer;
    match &choice.outcome {
        Outcome::Program(program) => {
            head(choice, program, out);
            picks(snapshot, program, out);
            worth(wish, program, out);
            caveats(program, out);
            last_time(program, out);
            given_up(program, out);
            left_out(program, out);
            others(program, out);
        }
        Outcome::Clash(demands, smallest) => clash("There is no such concert", demands, *smallest, out),
        Outcome::NotFound => out.say(
            "There are too many ways to try them all, and none so far is a program. Ask for less at once.",
        ),
    }
    asked(choice, out);
    aside(choice, out);
    if let Outcome::Program(program) = &choice.outcome {
        card(snapshot, wish, program, out);
    }
    answer
}

fn clock(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

fn named(names: &[String]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
    match names.len() > MOST_NAMES {
        true => format!(
            "{} and {} more",
            names.get(..MOST_NAMES).unwrap_or(&names).join(", "),
            names.len() - MOST_NAMES
        ),
        false => joined(&names),
    }
}

fn head(choice: &Choice, program: &Program, out: &mut Answer) {
    let unknown = program.picks.iter().any(|pick| pick.seconds.is_none());
    let total = program.music.saturating_add(program.gaps);
    let least = if unknown { "at least " } else { "" };
    let between = match program.gaps {
        0 => String::new(),
        gaps => format!(" with {} between the pieces", clock(gaps)),
    };
    let of = choice
        .allowed
        .map_or(String::new(), |allowed| format!(" of {}", clock(allowed)));
    let words = format!(
        "{}, {least}{}{of}{between}.",
        counted(program.picks.len(), "piece"),
        clock(total)
    );
    out.head(words);
    out.gap();
}

/// What the cards remember of these pieces.
fn last_time(program: &Program, out: &mut Answer) {
    let all = program.picks.iter().filter(|pick| !pick.remembered.is_empty());
    for (nth, pick) in all.enumerate() {
        if nth == 0 {
            out.gap();
            out.say("From the last time:");
        }
        out.item(format!("{}: {}", pick.name, pick.remembered.join(" ")));
    }
}

/// The best pieces that are not on it, and why.
fn left_out(program: &Program, out: &mut Answer) {
    if !program.not_preferred.is_empty() {
        out.gap();
        let wishes: Vec<String> = program
            .not_preferred
            .iter()
            .map(|one| format!("\"{one}\""))
            .collect();
        out.say(format!(
            "You prefer {}, but no piece of the best program is that.",
            joined(&wishes)
        ));
    }
    let (fit, not): (Vec<&LeftOut>, Vec<&LeftOut>) =
        program.left_out.iter().partition(|one| one.points.is_some());
    for (nth, one) in fit.iter().enumerate() {
        if nth == 0 {
            out.gap();
            out.say("Left out, though they meet what you ask:");
        }
        let points = usize::try_from(one.points.unwrap_or(0)).unwrap_or(0);
        let without = match one.instead_of.is_empty() {
            true => String::new(),
            false => format!(" without {}", named(&one.instead_of)),
        };
        let words = match points {
            0 => format!("a program with it is as good,{without}"),
            points => format!(
                "the best program with it has {} fewer,{without}",
                counted(points, "point")
            ),
        };
        out.item(format!("{}: {}.", one.name, words.trim_end_matches(',')));
    }
    let mut told: Vec<(Option<&str>, Vec<String>)> = Vec::new();
    for one in not {
        let why = one.against.as_deref();
        match told.iter_mut().find(|(known, _)| *known == why) {
            Some((_, names)) => names.push(one.name.clone()),
            None => told.push((why, vec![one.name.clone()])),
        }
    }
    for (nth, (why, names)) in told.iter().enumerate() {
        if nth == 0 {
            out.gap();
            out.say("Meet what you ask by themselves, but fit into no such program:");
        }
        let why = match why {
            Some(why) => format!("with what is kept it would no longer be {why}"),
            None => "several limits together leave no room".to_owned(),
        };
        out.item(format!("{}: {why}.", names.join(", ")));
    }
}

/// The next best programs.
fn others(program: &Program, out: &mut Answer) {
    for (nth, one) in program.others.iter().enumerate() {
        if nth == 0 {
            out.gap();
            out.say("The next best that truly differ (at most half of what was free to choose comes again):");
        }
        let goes = match one.goes.is_empty() {
            true => String::new(),
            false => format!(" instead of {}", named(&one.goes)),
        };
        let comes = match one.comes.is_empty() {
            true => "nothing".to_owned(),
            false => named(&one.comes),
        };
        let perhaps = if one.proven {
            ""
        } else {
            " (there may be a better one)"
        };
        let points = counted(usize::try_from(one.value).unwrap_or(0), "point");
        out.item(format!("{points}: {comes}{goes}.{perhaps}"));
    }
}

fn picks(snapshot: &Snapshot, program: &Program, out: &mut Answer) {
    // Several bands of an evening have a table each.
    for own in program.picks.chunk_by(|one, next| one.band == next.band) {
        let band = own.first().and_then(|pick| pick.band);
        if program.picks.iter().any(|pick| pick.band.is_some()) {
            let entry = band.and_then(|id| snapshot.entry(id));
            let who = entry.map_or("All bands together", |band| band.name.as_str());
            let seconds = own.iter().filter_map(|one| one.seconds).sum();
            out.say(format!("{who}, {} of music", clock(seconds)));
        }
        table(own, out);
    }
    out.gap();
}

fn table(picks: &[Pick], out: &mut Answer) {
    let mut rows = Vec::new();
    for pick in picks {
        let lasts = pick.seconds.map_or("?".to_owned(), clock);
        let points: i64 = pick.points.iter().map(|(points, _)| points).sum();
        let extra: Vec<&str> = pick.points.iter().skip(1).map(|(_, why)| why.as_str()).collect();
        let mut words = vec![counted(usize::try_from(points).unwrap_or(0), "point")];
        if !extra.is_empty() {
            words.push(extra.join(", "));
        }
        if pick.kept {
            words.push("kept".to_owned());
        }
        rows.push(vec![pick.name.clone(), lasts, words.join("; ")]);
    }
    out.table(Table {
        columns: vec![
            column(Wide::AsCells, false),
            column(Wide::Of(5), true),
            column(Wide::Rest, false),
        ],
        rows,
    });
}

fn worth(wish: &Wish<'_>, program: &Program, out: &mut Answer) {
    let proven = match program.bound <= program.value {
        true => "No other program that meets what you ask is worth more; every one was ruled out.".to_owned(),
        false => format!(
            "Not every program was tried: there may be one worth up to {}.",
            program.bound
        ),
    };
    out.say(
        format!(
            "Worth {} points: {A_MINUTE} for a minute of music, {PREFERRED} for each thing you prefer, {WANTED} for a piece on your wish list, and {WANTED} for one that was liked or went well. {proven}",
            program.value
        ));
    match program.ordered {
        true => out.say(
            "In this order: nothing slow at either end, neighbors different in pace, style and key as far as the pieces allow."),
        false => out.say("There are too many pieces to put in order."),
    }
    if let (Some((offers, purchase)), Some(budget)) = (&program.purchase, &wish.budget) {
        let money = |cents: u64| money(cents, &budget.currency);
        let each: Vec<String> = offers
            .iter()
            .map(|offer| {
                let what = if offer.bundle { "the bundle " } else { "" };
                let from = match offer.seller.is_empty() {
                    true => String::new(),
                    false => format!(" from {}", offer.seller),
                };
                format!("{what}\"{}\"{from} for {}", offer.name, money(offer.cents))
            })
            .collect();
        let postage = match purchase.postage {
            0 => String::new(),
            postage => format!(", {} of it postage", money(postage)),
        };
        let costs = money(purchase.cents);
        out.say(format!(
            "To buy: {}. That is {costs} in all{postage}.",
            joined(&each)
        ));
    }
    if !program.new_skills.is_empty() {
        out.say(format!("New to the band: {}.", joined(&program.new_skills)));
    }
}

/// What is not sure of the pieces, and what those that were kept miss.
fn caveats(program: &Program, out: &mut Answer) {
    let unsure: Vec<&Pick> = program
        .picks
        .iter()
        .filter(|pick| !pick.unsure.is_empty())
        .collect();
    let misses: Vec<&Pick> = program
        .picks
        .iter()
        .filter(|pick| !pick.misses.is_empty())
        .collect();
    if !misses.is_empty() {
        out.gap();
        out.say("Kept, though they do not meet what you ask:");
    }
    for pick in misses {
        for (demand, why) in &pick.misses {
            out.item(format!("{}: {demand} ({why})", pick.name));
        }
    }
    if !unsure.is_empty() {
        out.gap();
        out.say("Find out before you settle on them:");
    }
    let unsure = unsure
        .iter()
        .map(|pick| (pick.name.as_str(), pick.unsure.as_slice()));
    for (missing, names) in by_what(unsure) {
        out.item(format!("{}: {}", names.join(", "), missing.join("; ")));
    }
}

fn given_up(program: &Program, out: &mut Answer) {
    if program.given_up.is_empty() {
        return;
    }
    out.gap();
    out.say("What your limits cost:");
    for one in program.given_up.iter().take(MOST_GIVEN_UP) {
        let come = match one.pieces.is_empty() {
            true => String::new(),
            false => format!(", with {}", named(&one.pieces)),
        };
        let points = counted(usize::try_from(one.points).unwrap_or(0), "more point");
        out.item(format!("{}: {points}{come}.", one.how));
    }
}

/// Why there is no program; `none` says in the opening words that there is none.
pub(super) fn clash(none: &str, demands: &[String], smallest: bool, out: &mut Answer) {
    let why = match (demands.len(), smallest) {
        (0, _) => "there are no pieces to choose from.",
        (1, _) => "no piece meets this.",
        (_, true) => "these cannot all be met. Give up any one of them.",
        (_, false) => "these cannot all be met.",
    };
    out.head(format!("{none}: {why}"));
    out.gap();
    for demand in demands {
        out.item(demand);
    }
}

fn asked(choice: &Choice, out: &mut Answer) {
    out.gap();
    out.say(format!("Asked for: {}.", choice.demands.join("; ")));
}

/// The pieces that were ruled out, and those that nobody can judge.
fn aside(choice: &Choice, out: &mut Answer) {
    for (demand, pieces) in &choice.ruled_out {
        let names: Vec<String> = pieces.iter().map(|(name, _)| name.clone()).collect();
        out.item(format!("Ruled out by \"{demand}\": {}.", named(&names)));
    }
    if choice.apart.is_empty() {
        return;
    }
    let says = format!(
        "Left aside, because the card does not say enough ({}):",
        counted(choice.apart.len(), "piece")
    );
    out.gap();
    out.say(&says);
    let apart = choice.apart.iter();
    let apart = apart.map(|(name, missing)| (name.as_str(), missing.as_slice()));
    for (missing, names) in by_what(apart) {
        out.item(format!("{}: {}", names.join(", "), missing.join("; ")));
    }
}

/// Pieces by what is not known of them, in the order in which that comes up.
fn by_what<'c>(all: impl Iterator<Item = (&'c str, &'c [String])>) -> Vec<(&'c [String], Vec<&'c str>)> {
    let mut groups: Vec<(&[String], Vec<&str>)> = Vec::new();
    for (name, missing) in all {
        match groups.iter_mut().find(|(known, _)| *known == missing) {
            Some((_, names)) => names.push(name),
            None => groups.push((missing, vec![name])),
        }
    }
    groups
}

/// The program as it stands on a card.
fn card(snapshot: &Snapshot, wish: &Wish<'_>, program: &Program, out: &mut Answer) {
    let name = wish
        .concert
        .and_then(|id| snapshot.entry(id))
        .map(|entry| entry.name.clone());
    out.gap();
    let head = match &name {
        Some(name) => format!("concert \"{name}\""),
        None => "concert \"A name for it\"".to_owned(),
    };
    let mut lines = vec![head];
    if name.is_none() {
        for band in wish.bands.iter().filter_map(|id| snapshot.entry(*id)) {
            lines.push(format!("  for             \"{}\"", band.name));
        }
    }
    lines.push("  program".to_owned());
    lines.extend(programmed::rows(snapshot, program));
    out.card(lines);
}
