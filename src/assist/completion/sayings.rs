//! What this catalogue has said already, and what is usually said, where a value is words.

use std::collections::BTreeMap;

use crate::music::charts::Chart;
use crate::music::instruments::Family;
use crate::music::staff::Clef;
use crate::notation::values::Absent;
use crate::notation::{Kind, pieces};
use crate::text::Span;

use super::super::Place;
use super::super::drafts;
use super::super::offers::{Offer, OfferKind};

/// Offers of these words.
pub(super) fn words<'w>(written: Span, all: impl IntoIterator<Item = &'w str>) -> Vec<Offer> {
    all.into_iter()
        .map(|word| Offer::new(word, written, OfferKind::Value))
        .collect()
}

/// What is usually said in a field of words, then what other cards say in the same field.
pub(super) fn of(place: &Place<'_>, field: &str, written: Span) -> Vec<Offer> {
    let today = place.snapshot.today;
    let mut offers = match field {
        "absent" => seats(place, written),
        "follows" => words(written, Chart::ALL.iter().map(|chart| chart.name())),
        "sounds" => sounds(place, written),
        "reads" => words(
            written,
            [
                Clef::Treble,
                Clef::Alto,
                Clef::Tenor,
                Clef::Bass,
                Clef::Grand,
                Clef::Percussion,
            ]
            .map(Clef::name),
        ),
        "family" => words(written, families(place).iter().map(|family| family.name())),
        "new skills" => words(written, ["at most 1", "at most 2", "at most 3"]),
        "takes" => words(written, ["1 week", "2 weeks", "3 weeks", "4 weeks"]),
        "teaching" => words(written, ["at most 2 new skills a week", "6 weeks to a piece"]),
        "postage" => words(written, ["8 USD", "8 USD free over 100 USD"]),
        "pickup" => words(written, ["1 beat", "2 beats", "3 beats"]),
        "meets" => words(
            written,
            [
                "every day",
                "every other day",
                "45 minutes",
                "twice a week",
                "not ",
            ],
        ),
        "players" => words(
            written,
            [
                "at least 2 to a wind part",
                "extra players on the upper parts",
                "extra players on the lower parts",
            ],
        ),
        "judged" | "streamed" | "recorded" => words(written, ["no", "yes"]),
        "license" => words(
            written,
            [
                "30 printed copies",
                "may stream",
                "may record",
                "may copy",
                "no streaming",
                "no recording",
                "no copying",
                "until ",
            ],
        ),
        "lent" => words(written, [format!("{today} to ").as_str(), "due "]),
        "bought" => words(written, [today.to_string().as_str(), "from ", "donated"]),
        "track" => words(
            written,
            [
                "starts at 1",
                "operator ",
                "click track",
                "click for the conductor",
                "optional",
            ],
        ),
        "events" => words(written, ["14 cued"]),
        "largest file" => words(written, ["2 MB"]),
        "change" => words(
            written,
            [
                "5 s to a neighboring percussion instrument",
                "10 s to the timpani",
                "3 s from bells to snare",
            ],
        ),
        "length" => words(written, ["20 minutes", "1:30 between pieces", "10 minutes for "]),
        "season" => {
            // A school year begins in the summer (common practice, no source).
            let first = if today.month() >= 7 {
                today.year()
            } else {
                today.year().saturating_sub(1)
            };
            let next = first.saturating_add(1).rem_euclid(100);
            vec![Offer::new(
                format!("{first}-{next:02}"),
                written,
                OfferKind::Value,
            )]
        }
        "year" => vec![Offer::new(today.year().to_string(), written, OfferKind::Value)],
        "form" => words(
            written,
            [
                "introduction",
                "two strains",
                "trio",
                "coda",
                "ABA",
                "theme and variations",
                "rondo",
            ],
        ),
        _ => Vec::new(),
    };
    for offer in used(place, field, written) {
        if !offers
            .iter()
            .any(|known| known.label.eq_ignore_ascii_case(&offer.label))
        {
            offers.push(offer);
        }
    }
    offers
}

/// What other cards say in the same field, the commonest first.
fn used(place: &Place<'_>, field: &str, written: Span) -> Vec<Offer> {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for (id, entry) in place.snapshot.entries() {
        if id == place.id || entry.kind != place.entry.kind {
            continue;
        }
        for line in entry.text.lines() {
            // The field's word and blanks, as the one form and everybody writes it.
            let value = line
                .trim_start()
                .strip_prefix(field)
                .filter(|rest| rest.starts_with([' ', '\t']));
            for (_, item) in pieces::split_commas(value.unwrap_or("").trim()) {
                let item = item.trim();
                if !item.is_empty() && item.len() <= 60 && !item.contains(['(', ')']) {
                    *counts.entry(item).or_default() += 1;
                }
            }
        }
    }
    let mut all: Vec<(&str, usize)> = counts.into_iter().collect();
    all.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    all.truncate(100);
    all.into_iter()
        .map(|(words, count)| {
            let detail = match count {
                1 => "on 1 other card".to_owned(),
                _ => format!("on {count} other cards"),
            };
            Offer::new(words, written, OfferKind::Value)
                .detail(detail)
                .rank(6)
        })
        .collect()
}

/// The seats of the percussionists at hand, then the instruments of the band.
pub(super) fn seats(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let mut offers = Vec::new();
    let bands: Vec<_> = match place.entry.concert() {
        Some(concert) if !concert.bands.is_empty() => concert
            .bands
            .iter()
            .filter_map(|band| place.snapshot.ensemble_named(&band.value.name))
            .collect(),
        _ => drafts::bands(place.snapshot, Some(place.id)),
    };
    for band in bands.into_iter().filter_map(|id| place.snapshot.entry(id)) {
        let Some(facts) = band.ensemble() else { continue };
        for seat in &facts.percussionists {
            // Seats are numbers and initials; any other name is the director's own words, in quotation marks.
            let name = match Absent::read(&seat.seat) {
                Some(Absent::Seats(_)) => seat.seat.clone(),
                _ => format!("\"{}\"", seat.seat),
            };
            offers.push(
                Offer::new(name, written, OfferKind::Value)
                    .detail(seat.can.words().join(", "))
                    .says(format!("A percussionist of {}.", band.name))
                    .rank(1),
            );
        }
        for row in &facts.players {
            offers.push(
                Offer::new(format!("1 {}", row.name), written, OfferKind::Value)
                    .says(format!("One player of {}.", band.name))
                    .rank(3),
            );
        }
    }
    offers
}

/// How far the instruments of the standard table sound from what they read.
fn sounds(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let mut offers: Vec<Offer> = Vec::new();
    for instrument in place
        .snapshot
        .instruments()
        .all()
        .iter()
        .filter(|one| one.is_pitched)
    {
        let words = instrument.transposition.interval().sounds();
        match offers.iter_mut().find(|offer| offer.label == words) {
            Some(offer) if offer.detail.len() < 60 => {
                offer.detail.push_str(", ");
                offer.detail.push_str(&instrument.name);
            }
            Some(_) => {}
            None => offers
                .push(Offer::new(words, written, OfferKind::Value).detail(format!("as {}", instrument.name))),
        }
    }
    offers
}

fn families(place: &Place<'_>) -> Vec<Family> {
    let mut found: Vec<Family> = Vec::new();
    for instrument in place.snapshot.instruments().all() {
        if !found.contains(&instrument.family) {
            found.push(instrument.family);
        }
    }
    found
}

/// Needs, with the number of percussionists that the band at hand has.
pub(super) fn needs(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let mut offers: Vec<Offer> = Vec::new();
    for band in drafts::bands(place.snapshot, Some(place.id))
        .into_iter()
        .filter_map(|id| place.snapshot.entry(id))
    {
        if let Some(players) = band.ensemble().and_then(|facts| facts.percussion_players()) {
            offers.push(
                Offer::new(format!("{players} percussionists"), written, OfferKind::Value)
                    .detail(format!("as many as {} has", band.name))
                    .rank(1),
            );
        }
    }
    for players in 1..=8 {
        let label = match players {
            1 => "1 percussionist".to_owned(),
            _ => format!("{players} percussionists"),
        };
        if !offers.iter().any(|offer| offer.label == label) {
            offers.push(Offer::new(label, written, OfferKind::Value));
        }
    }
    offers.extend(words(written, ["a strong trumpet", "a strong snare player"]));
    offers.extend(used(place, "needs", written));
    offers
}

/// Performances: the concerts that list the piece, else today and the band.
pub(super) fn performances(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let mut offers = Vec::new();
    for listing in place.snapshot.listings_of(place.id) {
        let Some(entry) = place.snapshot.entry(listing.concert) else {
            continue;
        };
        let Some(concert) = entry.concert() else { continue };
        let (Some(on), Some(band)) = (&concert.on, concert.bands.first()) else {
            continue;
        };
        offers.push(
            Offer::new(
                format!("{} \"{}\"", on.value.day, band.value.name),
                written,
                OfferKind::Value,
            )
            .detail(entry.name.clone())
            .rank(1),
        );
    }
    for band in drafts::bands(place.snapshot, Some(place.id))
        .into_iter()
        .filter_map(|id| place.snapshot.entry(id))
    {
        offers.push(
            Offer::new(
                format!("{} \"{}\"", place.snapshot.today, band.name),
                written,
                OfferKind::Value,
            )
            .detail("today"),
        );
    }
    offers
}

/// The mark that comes after the last one, and the conventional ones.
pub(super) fn marks(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let own = place.entry.piece().map_or(&[][..], |piece| &piece.marks);
    let last = own
        .iter()
        .rev()
        .filter(|said| !said.span.touches(place.offset))
        .find_map(|said| {
            let mut letters = said.value.name.chars();
            let letter = letters.next().filter(char::is_ascii_uppercase)?;
            letters.next().is_none().then_some(letter)
        });
    let next = match last {
        Some(letter) => char::from_u32(u32::from(letter).saturating_add(1)).filter(char::is_ascii_uppercase),
        None => Some('A'),
    };
    let mut offers: Vec<Offer> = next
        .into_iter()
        .map(|letter| {
            Offer::new(format!("{letter} "), written, OfferKind::Value)
                .detail("the next letter")
                .rank(1)
        })
        .collect();
    for name in ["trio ", "coda ", "middle section "] {
        if !own.iter().any(|said| said.value.name == name.trim()) {
            offers.push(Offer::new(name, written, OfferKind::Value).detail("a usual place"));
        }
    }
    offers
}

/// Conditions, with what this catalogue holds put into them.
pub(super) fn conditions(place: &Place<'_>, written: Span) -> Vec<Offer> {
    // As the manual's table has them.
    let usual = [
        ("up to 3 flats", "No piece has more."),
        ("at most 1 sharp", "No piece has more."),
        ("at least 2 keys", "Pieces in different keys."),
        ("no key changes", "Each piece stays in its key."),
        ("triple meter", "Each piece."),
        ("meter changes", "Each piece."),
        ("only 4/4", "Each piece."),
        ("slow", "Each piece."),
        ("tempo at most 120", "Each piece."),
        ("up to grade 2", "Each piece."),
        ("at most 4 minutes", "Each piece."),
        ("at most 20 minutes in all", "The whole program."),
        ("at most 80 measures", "Each piece."),
        ("has timpani", "Each piece."),
        ("no solo", "Each piece."),
        ("a trumpet solo", "One piece with such a solo."),
        (
            "every range at most an octave and a third",
            "Each part of each piece.",
        ),
        ("clarinet 2 never over the break", "In no piece."),
        ("trumpet up to D5", "In no piece higher, written pitch."),
        ("owned", "The set is in the library."),
        ("complete", "No part of the set is missing."),
        ("at least 1 original score", "Scores for the judges."),
        ("strong trumpet section", "Pieces that suit one."),
        ("asks nothing new", "Only what the band has been taught."),
        ("slow and fast", "One piece of each."),
        ("went well", "Pieces that went well when they were played."),
        ("liked", "Pieces that somebody liked."),
        ("wanted", "Pieces on your wish list."),
        ("costs at most 60 USD", "Each piece."),
        ("never performed", "Each piece."),
        ("2 pieces from the list", "On a list's own card."),
    ];
    let mut offers: Vec<Offer> = usual
        .into_iter()
        .map(|(words, says)| Offer::new(words, written, OfferKind::Words).says(says))
        .collect();
    let since = place.snapshot.today.year().saturating_sub(3);
    offers.push(
        Offer::new(format!("not performed since {since}"), written, OfferKind::Words)
            .says("Nothing that was played lately."),
    );
    for band in place
        .snapshot
        .usual_bands()
        .into_iter()
        .filter_map(|id| place.snapshot.entry(id))
    {
        if let Some(players) = band.ensemble().and_then(|facts| facts.percussion_players()) {
            offers.push(
                Offer::new(
                    format!("at most {players} percussionists"),
                    written,
                    OfferKind::Words,
                )
                .detail(format!("as many as {} has", band.name))
                .says("No piece needs more.")
                .rank(2),
            );
        }
    }
    let mut styles: BTreeMap<&str, usize> = BTreeMap::new();
    let mut composers: BTreeMap<&str, usize> = BTreeMap::new();
    for (_, entry) in place.snapshot.entries() {
        for style in entry.face.words("style") {
            *styles.entry(style).or_default() += 1;
        }
        for person in entry.face.by.iter().take(1) {
            *composers.entry(person.name.as_str()).or_default() += 1;
        }
    }
    for (style, count) in styles {
        let words = format!("at least 1 {style}");
        let detail = format!("{count} on the shelf");
        offers.push(
            Offer::new(words, written, OfferKind::Words)
                .detail(detail)
                .says("One piece or more of this style."),
        );
    }
    for (name, count) in composers {
        let detail = format!("{count} on the shelf");
        offers.push(
            Offer::new(format!("by {name}"), written, OfferKind::Words)
                .detail(detail)
                .says("Each piece.")
                .rank(7),
        );
    }
    for (_, entry) in place.snapshot.entries() {
        if entry.kind == Some(Kind::Skill) && !entry.name.is_empty() {
            for lead in ["asks", "teaches"] {
                offers.push(
                    Offer::new(format!("{lead} {}", entry.name), written, OfferKind::Words)
                        .says("Each piece.")
                        .rank(6),
                );
            }
        }
    }
    offers
}
