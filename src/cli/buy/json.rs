//! An order for programs: one object; money is in hundredths of `currency`.

use std::io::{self, Write};

use serde::Serialize;

use crate::cli::report::lines;
use crate::planning::buy::{Line, Order, Wanting, What};

#[derive(Serialize)]
struct OrderLine<'o> {
    about: &'static str,
    currency: &'o str,
    hundredths: u64,
    singly: Option<u64>,
    proven: bool,
    lines: Vec<BoughtLine<'o>>,
    postage: Vec<PostageLine<'o>>,
    left_out: &'o [String],
    no_price: &'o [String],
    not_known: &'o [String],
    no_card: &'o [String],
    urgent: Vec<UrgentLine<'o>>,
}

#[derive(Serialize)]
struct BoughtLine<'o> {
    what: &'static str,
    name: &'o str,
    part: Option<&'o str>,
    count: u32,
    holds: &'o [String],
    seller: &'o str,
    hundredths: u64,
}

#[derive(Serialize)]
struct PostageLine<'o> {
    seller: &'o str,
    hundredths: u64,
}

#[derive(Serialize)]
struct UrgentLine<'o> {
    piece: &'o str,
    concert: Option<&'o str>,
    first_rehearsal: Option<String>,
}

fn bought(line: &Line) -> BoughtLine<'_> {
    let bare = BoughtLine {
        what: "set",
        name: "",
        part: None,
        count: 1,
        holds: &[],
        seller: &line.seller,
        hundredths: line.cents,
    };
    match &line.what {
        What::Set(name) => BoughtLine { name, ..bare },
        What::Bundle { name, holds } => BoughtLine {
            what: "bundle",
            name,
            holds,
            ..bare
        },
        What::Part {
            count, part, piece, ..
        } => BoughtLine {
            what: "part",
            name: piece,
            part: Some(part),
            count: *count,
            ..bare
        },
    }
}

/// Writes the object.
pub fn tell(lacking: &Wanting, order: &Order, out: &mut dyn Write) -> io::Result<()> {
    let line = OrderLine {
        about: "order",
        currency: &order.currency,
        hundredths: order.cents,
        singly: order.singly,
        proven: order.proven,
        lines: order.lines.iter().map(bought).collect(),
        postage: order
            .postage
            .iter()
            .map(|(seller, hundredths)| PostageLine {
                seller,
                hundredths: *hundredths,
            })
            .collect(),
        left_out: &order.left_out,
        no_price: &order.no_price,
        not_known: &lacking.not_known,
        no_card: &lacking.no_card,
        urgent: order
            .urgent
            .iter()
            .map(|set| UrgentLine {
                piece: &set.name,
                concert: set.concert.as_ref().map(|(name, _)| name.as_str()),
                first_rehearsal: set.rehearsed.map(|day| day.to_string()),
            })
            .collect(),
    };
    lines::line(&line, out)
}
