//! An order to be read.

use std::io::{self, Write};

use crate::catalogue::Snapshot;
use crate::cli::color::Paint;
use crate::cli::say::{gap, say};
use crate::cli::wrap;
use crate::planning::buy::words::{line, money, urgent};
use crate::planning::buy::{Order, Wanting, Wish};
use crate::text::sentences::{agree, joined};

/// Tells an order.
pub fn tell(
    snapshot: &Snapshot,
    lacking: &Wanting,
    wish: &Wish,
    order: &Order,
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<()> {
    if order.lines.is_empty() {
        say("There is nothing to buy that has a price.", out)?;
    }
    let mut seller: Option<&str> = None;
    for bought in &order.lines {
        if seller != Some(bought.seller.as_str()) {
            let name = match bought.seller.is_empty() {
                true => "From a seller that no card names",
                false => &bought.seller,
            };
            writeln!(out, "{}", paint.bold(&wrap::plain(name)))?;
            seller = Some(&bought.seller);
        }
        let last = order.lines.iter().rfind(|other| other.seller == bought.seller);
        priced(&line(&bought.what), bought.cents, &order.currency, out)?;
        if last.is_some_and(|last| std::ptr::eq(last, bought))
            && let Some((_, fee)) = order.postage.iter().find(|(name, _)| *name == bought.seller)
        {
            priced("postage", *fee, &order.currency, out)?;
        }
    }
    if !order.lines.is_empty() {
        gap(out)?;
        say(&sum(wish, order), out)?;
    }
    for words in caveats(snapshot, lacking, order) {
        say(&words, out)?;
    }
    Ok(())
}

/// A line with its price at the right.
fn priced(words: &str, cents: u64, currency: &str, out: &mut dyn Write) -> io::Result<()> {
    let price = money(cents, currency);
    let room = wrap::width().saturating_sub(4 + 14);
    let lines = wrap::lines(&wrap::plain(words), room, 0);
    for (at, line) in lines.iter().enumerate() {
        let indent = if at == 0 { "  " } else { "    " };
        if at + 1 < lines.len() {
            writeln!(out, "{indent}{line}")?;
            continue;
        }
        let used = wrap::columns(line) + indent.len();
        let pad = (room + 4).saturating_sub(used);
        writeln!(out, "{indent}{line}{}{price:>12}", " ".repeat(pad))?;
    }
    Ok(())
}

fn sum(wish: &Wish, order: &Order) -> String {
    let all = money(order.cents, &order.currency);
    let of = match &wish.budget {
        Some(budget) => format!(" of {budget}"),
        None => String::new(),
    };
    let proof = match (order.proven, wish.budget.is_some()) {
        (true, false) => "; no order costs less",
        (true, true) => "; no order within the budget has more of what is wanted",
        (false, _) => "; there were too many ways to try, so there may be a better order",
    };
    let singly = match order.singly.and_then(|singly| singly.checked_sub(order.cents)) {
        Some(saved) if saved > 0 => format!(
            " Bought one by one it would be {} more.",
            money(saved, &order.currency)
        ),
        _ => String::new(),
    };
    format!("{all}{of} in all{proof}.{singly}")
}

fn caveats(snapshot: &Snapshot, lacking: &Wanting, order: &Order) -> Vec<String> {
    let mut said = Vec::new();
    let quoted =
        |names: &[String]| joined(&names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>());
    said.extend(urgent(&order.urgent, snapshot.today));
    if !order.left_out.is_empty() {
        said.push(format!(
            "Wanted, and left for another year: {}.",
            quoted(&order.left_out)
        ));
    }
    if !order.no_price.is_empty() {
        said.push(format!(
            "Needed, and not in the sum because no card says what {}: {}.",
            agree(order.no_price.len(), "it costs", "they cost"),
            joined(&order.no_price)
        ));
    }
    if !lacking.not_known.is_empty() {
        said.push(format!(
            "No card says whether the {} of {} {} there. Write \"library\" on the card where it is, \"wanted\" where it is not.",
            agree(lacking.not_known.len(), "set", "sets"),
            quoted(&lacking.not_known),
            agree(lacking.not_known.len(), "is", "are")
        ));
    }
    if !lacking.no_card.is_empty() {
        said.push(format!(
            "{} {} no card to read.",
            quoted(&lacking.no_card),
            agree(lacking.no_card.len(), "has", "have")
        ));
    }
    if order.postage.is_empty()
        && !order.lines.is_empty()
        && snapshot.handbook().is_none_or(|book| book.postage.is_empty())
    {
        said.push(
            "No postage was counted. Write in the handbook what sellers take, as in: postage 8 USD."
                .to_owned(),
        );
    }
    said
}
