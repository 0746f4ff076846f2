//! `levare season`: several concerts built together.

mod year;

use std::io::{self, Write};

use serde::Serialize;

use super::args::{PlainForm, Season as Asked};
use super::assign::meant;
use super::choose::table::by_what;
use super::color::Paint;
use super::report::lines;
use super::say::{gap, item, say};
use super::teach::room_of;
use super::wrap;
use super::{Status, complain, written};
use crate::assist::{programmed, recorded};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::notation::values::Money;
use crate::planning::buy::words::money;
use crate::planning::choose::season::{Because, Evening, Season, SeasonWish, season};
use crate::planning::choose::{Wish, bands_of};
use crate::planning::percussion::YearPlayer;
use crate::planning::teach::to_come;
use crate::text::Edit;
use crate::text::sentences::{agree, joined};

/// Runs the command.
pub fn run(asked: &Asked, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = room_of(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let found = concerts(snapshot, &asked.name).and_then(|concerts| Ok((concerts, wish(asked)?)));
    let (concerts, wish) = match found {
        Ok(found) => found,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let bands: Vec<Vec<EntryId>> = concerts
        .iter()
        .map(|concert| bands_of(snapshot, *concert))
        .collect();
    let wishes: Vec<Wish<'_>> = concerts
        .iter()
        .zip(&bands)
        .map(|(concert, bands)| Wish {
            concert: Some(*concert),
            rests: asked.rest,
            ..Wish::usual(bands)
        })
        .collect();
    let found = season(snapshot, &wishes, &wish);
    let players = match &found {
        Season::Programs { evenings, .. } => Some(year::of(snapshot, evenings, &bands)),
        _ => None,
    };
    match asked.form {
        PlainForm::Table => {
            tell(snapshot, &found, paint, out)?;
            if let Some((players, in_full)) = &players {
                gap(out)?;
                year::tell(snapshot, players, *in_full, paint, out)?;
            }
        }
        PlainForm::Json => json(
            snapshot,
            &found,
            players.iter().flat_map(|(players, _)| players),
            out,
        )?,
    }
    let Season::Programs { evenings, .. } = &found else {
        return Ok(Status::Found);
    };
    if !asked.write {
        return Ok(Status::Nothing);
    }
    let mut files: Vec<(usize, Vec<Edit>)> = Vec::new();
    for evening in evenings {
        let pieces = programmed::played(&evening.program);
        match programmed::edit(snapshot, evening.concert, &pieces) {
            Ok(edits) if edits.is_empty() => {}
            Ok(edits) => recorded::add(&mut files, evening.concert.file as usize, edits),
            Err(why) => {
                let name = name(snapshot, evening.concert);
                complain(&format!("Nothing was written. \"{name}\": {}", why.says()));
                return Ok(Status::CouldNot);
            }
        }
    }
    if files.is_empty() {
        complain("The programs are on the cards already.");
        return Ok(Status::Nothing);
    }
    Ok(match written::all(&room, &files) {
        Ok(names) => {
            let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
            complain(&format!("The programs were written into {}.", joined(&names)));
            Status::Nothing
        }
        Err(words) => {
            complain(&words);
            Status::CouldNot
        }
    })
}

fn name(snapshot: &Snapshot, id: EntryId) -> String {
    snapshot
        .entry(id)
        .map_or_else(String::new, |entry| entry.name.clone())
}

/// The concerts, in the order of their days.
fn concerts(snapshot: &Snapshot, names: &[String]) -> Result<Vec<EntryId>, String> {
    let coming = to_come(snapshot);
    let mut found = Vec::new();
    for said in names {
        let bare = meant::bare(said);
        let id = snapshot.names().of(Kind::Concert, bare).next();
        let id = id.ok_or_else(|| {
            format!(
                "There is no concert called \"{bare}\" here. Put each name in quotation marks, the way its card spells it."
            )
        })?;
        if !coming.contains(&id) {
            return Err(format!(
                "\"{bare}\" has no day, or it is over. Write its day on its card, as in: on 2027-05-13."
            ));
        }
        found.push(id);
    }
    if names.is_empty() {
        found = coming.clone();
    }
    found.sort_by_key(|id| coming.iter().position(|known| known == id));
    found.dedup();
    if found.is_empty() {
        return Err("No coming concert has a day. Write a concert card first.".to_owned());
    }
    for id in &found {
        if bands_of(snapshot, *id).is_empty() {
            let name = name(snapshot, *id);
            return Err(format!(
                "The concert card \"{name}\" does not say which band plays. Write a line on it: for \"the name of the band\"."
            ));
        }
    }
    Ok(found)
}

fn wish(asked: &Asked) -> Result<SeasonWish, String> {
    let money = |said: &Option<String>, what: &str| match said {
        None => Ok(None),
        Some(words) => Money::read(words).map(Some).ok_or_else(|| {
            format!("\"{words}\" is not a sum of money. Type --{what} \"120 USD\" or --{what} '$120'.")
        }),
    };
    let (budget, postage) = (money(&asked.budget, "budget")?, money(&asked.postage, "postage")?);
    if let (Some(budget), Some(postage)) = (&budget, &postage)
        && budget.currency != postage.currency
    {
        return Err(format!(
            "The budget is in {} and the postage in {}. Levare does not exchange money: give both in one.",
            budget.currency, postage.currency
        ));
    }
    Ok(SeasonWish {
        new_skills: asked.new_skills,
        budget,
        postage: postage.map(|money| money.high),
    })
}

fn clock(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

fn tell(snapshot: &Snapshot, found: &Season, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    let (evenings, value, bound, purchase) = match found {
        Season::Programs {
            evenings,
            value,
            bound,
            purchase,
        } => (evenings, value, bound, purchase),
        Season::Alone(all) => {
            let names: Vec<String> = all
                .iter()
                .map(|id| format!("\"{}\"", name(snapshot, *id)))
                .collect();
            let asks = names
                .first()
                .map(|name| format!("levare choose {name}"))
                .unwrap_or_default();
            return say(
                &format!(
                    "{} {} no program even by {}. \"{asks}\" says what clashes.",
                    joined(&names),
                    agree(names.len(), "has", "have"),
                    agree(names.len(), "itself", "themselves"),
                ),
                out,
            );
        }
        Season::Together(clash, because) => {
            let names: Vec<String> = clash
                .iter()
                .map(|id| format!("\"{}\"", name(snapshot, *id)))
                .collect();
            let why = match because {
                Because::Pieces => {
                    "there are too few pieces to play none of them twice. Ask less of one of them, or leave it out"
                }
                Because::Money => {
                    "the budget does not hold for all of them. Raise it, or leave one of them out"
                }
                Because::Skills => {
                    "there would be more that is new to a band than you allow. Allow more, or exchange a piece that is on a program"
                }
                Because::Several => {
                    "the budget is too small, and there would be more that is new to a band than you allow"
                }
            };
            return say(
                &format!("{} can each be filled, but not together: {why}.", joined(&names)),
                out,
            );
        }
        Season::NotFound => {
            return say(
                "There are too many ways to try them all, and none so far works. Name fewer concerts.",
                out,
            );
        }
    };
    for evening in evenings {
        one(snapshot, evening, paint, out)?;
        gap(out)?;
    }
    if let Some((offers, purchase)) = purchase {
        let names: Vec<String> = offers.iter().map(|offer| format!("\"{}\"", offer.name)).collect();
        let currency = offers_currency(snapshot, evenings);
        say(
            &format!(
                "To buy for all of them: {}, {}.",
                joined(&names),
                money(purchase.cents, &currency)
            ),
            out,
        )?;
    }
    let proof = match bound <= value {
        true => "no other programs together are worth more".to_owned(),
        false => format!("there were too many ways to try; others could have {bound}"),
    };
    say(
        &format!(
            "{value} points in all; {proof}. No piece comes in twice. Pieces of which something is not known that was asked were not chosen from; \"levare choose\" lists them for one concert."
        ),
        out,
    )
}

/// The currency of what is bought.
fn offers_currency(snapshot: &Snapshot, evenings: &[Evening]) -> String {
    let mut pieces = evenings.iter().flat_map(|evening| &evening.program.picks);
    let price = pieces.find_map(|pick| snapshot.entry(pick.id)?.piece()?.price.clone());
    price.map_or_else(|| "USD".to_owned(), |said| said.value.currency)
}

fn one(snapshot: &Snapshot, evening: &Evening, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    let concert = snapshot.entry(evening.concert);
    let day = concert.and_then(|entry| entry.concert()?.day());
    let day = day.map_or_else(String::new, |day| format!(", {day}"));
    let head = format!("{}{day}", name(snapshot, evening.concert));
    writeln!(out, "{}", paint.bold(&wrap::plain(&head)))?;
    let program = &evening.program;
    let wide = program
        .picks
        .iter()
        .map(|pick| wrap::columns(&pick.name))
        .max()
        .unwrap_or(0);
    let mut band = None;
    for pick in &program.picks {
        if pick.band != band {
            band = pick.band;
            let who = band.map_or_else(|| "All bands together".to_owned(), |id| name(snapshot, id));
            writeln!(out, "  {}", wrap::plain(&who))?;
        }
        let pad = " ".repeat(wide.saturating_sub(wrap::columns(&pick.name)));
        let seconds = pick.seconds.map_or_else(|| "?".to_owned(), clock);
        let kept = if pick.kept { "  kept" } else { "" };
        let deeper = if pick.band.is_some() { "  " } else { "" };
        let line = format!("  {deeper}{}{pad}  {seconds:>5}{kept}", pick.name);
        writeln!(out, "{}", wrap::plain(&line))?;
    }
    item(
        &format!("{} in all.", clock(program.music.saturating_add(program.gaps))),
        out,
    )?;
    if !evening.new_skills.is_empty() {
        item(
            &format!("New to the band by then: {}.", joined(&evening.new_skills)),
            out,
        )?;
    }
    for pick in program.picks.iter().filter(|pick| !pick.remembered.is_empty()) {
        item(&format!("\"{}\": {}", pick.name, pick.remembered.join(" ")), out)?;
    }
    for pick in program.picks.iter().filter(|pick| !pick.misses.is_empty()) {
        let misses: Vec<String> = pick
            .misses
            .iter()
            .map(|(demand, why)| format!("{demand} ({why})"))
            .collect();
        item(
            &format!("\"{}\" is kept, though: {}.", pick.name, misses.join("; ")),
            out,
        )?;
    }
    let unsure = program.picks.iter().filter(|pick| !pick.unsure.is_empty());
    for (missing, names) in by_what(unsure.map(|pick| (pick.name.as_str(), pick.unsure.as_slice()))) {
        item(
            &format!(
                "Find out before you settle on {}: {}.",
                names.join(", "),
                missing.join("; ")
            ),
            out,
        )?;
    }
    Ok(())
}

#[derive(Serialize)]
struct SeasonLine {
    about: &'static str,
    outcome: &'static str,
    because: Option<&'static str>,
    concerts: Vec<EveningLine>,
    value: Option<i64>,
    bound: Option<i64>,
    hundredths: Option<u64>,
    buy: Vec<String>,
    percussion: Vec<PlayerLine>,
}

#[derive(Serialize)]
struct PlayerLine {
    band: String,
    seat: String,
    /// For each concert that the player plays in, each instrument with the number of its pieces.
    concerts: Vec<(String, Vec<(String, usize)>)>,
    /// Tenths of a second; nothing where that is not known.
    plays: Option<i64>,
}

#[derive(Serialize)]
struct EveningLine {
    concert: String,
    pieces: Vec<String>,
    seconds: u32,
    new_skills: Vec<String>,
    not_known: Vec<(String, Vec<String>)>,
}

/// A concert without a program.
fn nothing(concert: String) -> EveningLine {
    EveningLine {
        concert,
        pieces: Vec::new(),
        seconds: 0,
        new_skills: Vec::new(),
        not_known: Vec::new(),
    }
}

/// One object: money in hundredths, `outcome` is `programs`, `none by itself`, `none together` or `not found`.
fn json<'p>(
    snapshot: &Snapshot,
    found: &Season,
    players: impl Iterator<Item = &'p YearPlayer>,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut line = SeasonLine {
        about: "season",
        outcome: "programs",
        because: None,
        concerts: Vec::new(),
        value: None,
        bound: None,
        hundredths: None,
        buy: Vec::new(),
        percussion: players
            .map(|player| PlayerLine {
                band: name(snapshot, player.band),
                seat: player.seat.clone(),
                concerts: player
                    .had
                    .iter()
                    .filter(|(_, had)| !had.is_empty())
                    .map(|(concert, had)| (name(snapshot, *concert), had.clone()))
                    .collect(),
                plays: player.plays,
            })
            .collect(),
    };
    match found {
        Season::Programs {
            evenings,
            value,
            bound,
            purchase,
        } => {
            line.concerts = evenings
                .iter()
                .map(|evening| EveningLine {
                    concert: name(snapshot, evening.concert),
                    pieces: evening
                        .program
                        .picks
                        .iter()
                        .map(|pick| pick.name.clone())
                        .collect(),
                    seconds: evening.program.music.saturating_add(evening.program.gaps),
                    new_skills: evening.new_skills.clone(),
                    not_known: {
                        let unsure = evening
                            .program
                            .picks
                            .iter()
                            .filter(|pick| !pick.unsure.is_empty());
                        unsure
                            .map(|pick| (pick.name.clone(), pick.unsure.clone()))
                            .collect()
                    },
                })
                .collect();
            (line.value, line.bound) = (Some(*value), Some(*bound));
            line.hundredths = purchase.as_ref().map(|(_, purchase)| purchase.cents);
            let offers = purchase.iter().flat_map(|(offers, _)| offers);
            line.buy = offers.map(|offer| offer.name.clone()).collect();
        }
        Season::Alone(all) => {
            line.outcome = "none by itself";
            line.concerts = all.iter().map(|id| nothing(name(snapshot, *id))).collect();
        }
        Season::Together(clash, because) => {
            line.because = Some(match because {
                Because::Pieces => "too few pieces",
                Because::Money => "budget",
                Because::Skills => "new skills",
                Because::Several => "budget and new skills",
            });
            line.outcome = "none together";
            line.concerts = clash.iter().map(|id| nothing(name(snapshot, *id))).collect();
        }
        Season::NotFound => line.outcome = "not found",
    }
    lines::line(&line, out)
}
