//! An order to be read.

use crate::catalogue::Snapshot;
use crate::planning::buy::words::{line, money, urgent};
use crate::planning::buy::{Order, Wanting, Wish};
use crate::text::said::{Answer, Table, Wide, column};
use crate::text::sentences::{agree, joined};

/// Tells an order.
pub fn tell(snapshot: &Snapshot, lacking: &Wanting, wish: &Wish, order: &Order) -> Answer {
    let mut answer = Answer::default();
    let out = &mut answer;
    if order.lines.is_empty() {
        out.say("There is nothing to buy that has a price.");
    }
    let mut seller: Option<&str> = None;
    let mut rows = Vec::new();
    for bought in &order.lines {
        if seller != Some(bought.seller.as_str()) {
            let name = match bought.seller.is_empty() {
                true => "From a seller that no card names",
                false => &bought.seller,
            };
            close(&mut rows, out);
            out.head(name);
            seller = Some(&bought.seller);
        }
        let last = order.lines.iter().rfind(|other| other.seller == bought.seller);
        rows.push(vec![line(&bought.what), money(bought.cents, &order.currency)]);
        if last.is_some_and(|last| std::ptr::eq(last, bought))
            && let Some((_, fee)) = order.postage.iter().find(|(name, _)| *name == bought.seller)
        {
            rows.push(vec!["postage".to_owned(), money(*fee, &order.currency)]);
        }
    }
    close(&mut rows, out);
    if !order.lines.is_empty() {
        out.gap();
        out.say(sum(wish, order));
    }
    for words in caveats(snapshot, lacking, order) {
        out.say(words);
    }
    answer
}

/// The lines of one seller, with their prices at the right.
fn close(rows: &mut Vec<Vec<String>>, out: &mut Answer) {
    let rows = std::mem::take(rows);
    if !rows.is_empty() {
        out.table(Table {
            columns: vec![column(Wide::Rest, false), column(Wide::Of(12), true)],
            rows,
        });
    }
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
        (false, _) => "; there were too many ways to try them all, so there may be a better order",
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
            "Needed, but not in the total, because no card says what {}: {}.",
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
