//! The director's words that cannot all hold: the smallest set of them that leaves a part without a player.

use crate::planning::assign::{self, Limits, leave_out};
use crate::text::sentences::{counted, joined};

use super::ask::{DirectorsWords, Question};
use super::pins::{Decided, Whose};

/// Each set of words is looked at for so many steps; a piece for a school band needs far fewer.
const STEPS: u64 = 20_000;
/// The most words that are tried in every combination of up to [`MOST_TOGETHER`].
const MOST_WORDS: usize = 14;
/// The most words that clash; more than these nobody could weigh against each other.
const MOST_TOGETHER: usize = 4;

/// One word of the director's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Word {
    /// Who has a part.
    Only(usize),
    /// That a player, by seat, does not have some parts, and whose word that is.
    Never(usize, Whose),
    /// That somebody plays nothing.
    Out(usize),
    /// That two are kept apart.
    Apart(usize),
    /// That somebody has at most so many parts.
    Most(usize),
}

/// The smallest set of the director's words with which more of what the music needs is left out than without any, a
/// phrase each; empty where the words can all hold, or take nothing away.
pub fn clash(question: &Question) -> Vec<String> {
    let words = all(question);
    if words.is_empty() || !question.knows_players {
        return Vec::new();
    }
    let left = |words: &[Word]| left_out(question, words);
    let least = left(&[]);
    if left(&words) <= least {
        return Vec::new();
    }
    // A smallest set of which none can go; then, where they are few, whether there is a smaller one.
    let mut found = words.clone();
    for word in &words {
        let fewer: Vec<Word> = found.iter().copied().filter(|other| other != word).collect();
        if left(&fewer) > least {
            found = fewer;
        }
    }
    if words.len() <= MOST_WORDS {
        let smaller = 1..found.len().min(MOST_TOGETHER + 1);
        let smallest = smaller
            .flat_map(|size| sets(&words, size))
            .find(|set| left(set) > least);
        found = smallest.unwrap_or(found);
    }
    found.into_iter().map(|word| phrase(question, word)).collect()
}

/// `These cannot all hold: ...`, where they clash.
pub fn sentence(clash: &[String]) -> Option<String> {
    match clash {
        [] => None,
        [one] => Some(format!(
            "Because {one}, a part stays without a player. Take that back, or leave the part out."
        )),
        all => Some(format!(
            "These cannot all hold: {}. Take one of them back, and nothing is left out that need not be.",
            joined(all)
        )),
    }
}

fn all(question: &Question) -> Vec<Word> {
    let mut words = Vec::new();
    for (part, decided) in question.decided.iter().enumerate() {
        match &decided.only {
            Some(_) => words.push(Word::Only(part)),
            None => {
                for &(seat, whose) in &decided.never {
                    let word = Word::Never(seat, whose);
                    if !words.contains(&word) {
                        words.push(word);
                    }
                }
            }
        }
    }
    words.extend((0..question.out.len()).map(Word::Out));
    words.extend((0..question.apart.len()).map(Word::Apart));
    words.extend((0..question.most.len()).map(Word::Most));
    words
}

/// How many parts that the music needs stay out when only these words hold.
fn left_out(question: &Question, words: &[Word]) -> usize {
    let mut only = DirectorsWords {
        decided: vec![Decided::default(); question.decided.len()],
        ..DirectorsWords::default()
    };
    for word in words {
        match *word {
            Word::Only(part) => {
                if let (Some(to), Some(from)) = (only.decided.get_mut(part), question.decided.get(part)) {
                    to.only.clone_from(&from.only);
                }
            }
            Word::Never(seat, whose) => {
                for (to, from) in only.decided.iter_mut().zip(&question.decided) {
                    if from.only.is_none() && from.never.contains(&(seat, whose)) {
                        to.never.push((seat, whose));
                    }
                }
            }
            Word::Out(at) => only.out.extend(question.out.get(at)),
            Word::Apart(at) => only.apart.extend(question.apart.get(at)),
            Word::Most(at) => only.most.extend(question.most.get(at)),
        }
    }
    let (music, players) = question.with_only(&only);
    let limits = Limits {
        steps: STEPS,
        ..Limits::USUAL
    };
    match only.apart.is_empty() && only.most.is_empty() {
        true => leave_out(&music, &players, false, limits).vital.len(),
        false => assign::assign(&music, &players, false, limits)
            .left_out
            .vital
            .len(),
    }
}

/// All sets of a size.
fn sets(words: &[Word], size: usize) -> Vec<Vec<Word>> {
    if size == 0 {
        return vec![Vec::new()];
    }
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        for mut rest in sets(words.get(at + 1..).unwrap_or(&[]), size - 1) {
            rest.insert(0, *word);
            found.push(rest);
        }
    }
    found
}

fn phrase(question: &Question, word: Word) -> String {
    let seat = |at: usize| {
        let seat = question.seats.get(at);
        seat.map_or(String::new(), |seat| seat.name.clone())
    };
    let by = |whose: Whose| format!("({})", whose.words());
    let part = |at: usize| super::words::part(question, at);
    let decided = |at: usize| question.decided.get(at);
    match word {
        Word::Only(at) => match decided(at).and_then(|decided| decided.only.as_ref()) {
            Some((who, whose)) => {
                let names: Vec<String> = who.iter().map(|at| seat(*at)).collect();
                let are = if names.len() == 1 { "is" } else { "are" };
                format!("{} {are} to have the {} {}", joined(&names), part(at), by(*whose))
            }
            None => String::new(),
        },
        Word::Never(who, whose) => {
            let all = question.decided.iter().enumerate();
            let all = all.filter(|(_, from)| from.only.is_none() && from.never.contains(&(who, whose)));
            let parts: Vec<String> = all.map(|(at, _)| part(at)).collect();
            format!(
                "{} is not to have the {} {}",
                seat(who),
                joined(&parts),
                by(whose)
            )
        }
        Word::Out(at) => match question.out.get(at) {
            Some(out) => {
                let (who, whose) = out;
                let most = question.most_pieces.iter();
                let most = most
                    .filter(|(at, _, by)| (at, by) == (who, whose))
                    .map(|(_, most, _)| *most);
                let what = match most.min() {
                    Some(most) => format!("have at most {}", counted(most as usize, "piece")),
                    None => "play nothing".to_owned(),
                };
                format!("{} is to {what} {}", seat(*who), by(*whose))
            }
            None => String::new(),
        },
        Word::Apart(at) => match question.apart.get(at) {
            Some(((one, other), whose)) => format!(
                "{} and {} are never to be at one instrument {}",
                seat(*one),
                seat(*other),
                by(*whose)
            ),
            None => String::new(),
        },
        Word::Most(at) => match question.most.get(at) {
            Some((who, most, whose)) => {
                let parts = counted(*most as usize, "part");
                format!("{} is to have at most {parts} {}", seat(*who), by(*whose))
            }
            None => String::new(),
        },
    }
}
