//! `levare buy`: what to order, for the least money.

mod json;

use std::io::{self, Write};

use super::args::{Buy, PlainForm};
use super::assign::meant;
use super::color::Paint;
use super::find::open_room;
use super::find::understood;
use super::say::tell;
use super::{Status, complain};
use crate::assist::answers::buy as told;
use crate::assist::answers::limits::sum;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::planning::buy::{NoOrder, Scope, Wish, order, wanting};

/// Runs the command.
pub fn run(asked: &Buy, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = open_room(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let found = scope(snapshot, &asked.name).and_then(|scope| Ok((scope, wish(snapshot, asked)?)));
    let (scope, wish) = match found {
        Ok(found) => found,
        Err(words) => {
            // What is wrong with a condition has been told already.
            if !words.is_empty() {
                complain(&words);
            }
            return Ok(Status::CouldNot);
        }
    };
    let lacking = wanting(snapshot, &scope);
    match order(snapshot, &lacking, &wish) {
        Ok(found) => {
            match asked.form {
                PlainForm::Table => tell(&told::tell(snapshot, &lacking, &wish, &found), paint, out)?,
                PlainForm::Json => json::tell(&lacking, &found, out)?,
            }
            Ok(Status::Nothing)
        }
        Err(why) => {
            let currency = wish.budget.as_ref().map_or("USD", |money| &money.currency);
            complain(&why.says(currency));
            Ok(match why {
                NoOrder::OverBudget { .. } => Status::Found,
                _ => Status::CouldNot,
            })
        }
    }
}

/// For what is bought.
fn scope(snapshot: &Snapshot, names: &[String]) -> Result<Scope, String> {
    let all = names.join(" ");
    let bare = meant::bare(&all);
    if bare.is_empty() {
        return Ok(Scope::Everything);
    }
    if let Some(concert) = snapshot.names().of(Kind::Concert, bare).next() {
        return Ok(Scope::Concert(concert));
    }
    if let Ok(piece) = meant::piece(snapshot, bare) {
        return Ok(Scope::Pieces(vec![piece]));
    }
    let each = names.iter().map(|name| meant::piece(snapshot, name));
    each.collect::<Result<Vec<EntryId>, String>>().map(Scope::Pieces)
}

fn wish(snapshot: &Snapshot, asked: &Buy) -> Result<Wish, String> {
    let money = |said: &Option<String>, what: &str| match said {
        None => Ok(None),
        Some(words) => sum(words, &format!("Type --{what}")).map(Some),
    };
    let mut prefer = Vec::new();
    for words in &asked.prefer {
        prefer.extend(understood(snapshot, std::slice::from_ref(words)).ok_or_else(String::new)?);
    }
    Ok(Wish {
        budget: money(&asked.budget, "budget")?,
        postage: money(&asked.postage, "postage")?,
        prefer,
    })
}
