//! Two people's edits of one card, put together.

use super::check;
use super::lines::{Pen, Piece, merge};
use crate::comparing::outline::{Line, Outline};
use crate::text::Ending;

/// What became of one card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardPieces {
    /// Its lines and its clashes.
    pub pieces: Vec<Piece>,
    /// Blank lines at its end.
    pub blank_end: u32,
}

/// The pieces of a card that only one side has changed, or that both left alone: all of it as it is written.
pub fn untouched(text: &str) -> CardPieces {
    let plain = Ending::Lf.rewrite(text);
    let mut lines: Vec<&str> = plain.lines().collect();
    let mut blank_end = 0;
    while lines.last().is_some_and(|line| line.trim().is_empty()) {
        lines.pop();
        blank_end += 1;
    }
    CardPieces {
        pieces: lines
            .into_iter()
            .map(|line| Piece::Line(line.to_owned()))
            .collect(),
        blank_end,
    }
}

/// The pieces of a card that one side took out while the other changed it.
pub fn taken_out(left: &Outline, by_us: bool) -> CardPieces {
    let lines = left.written();
    let (ours, theirs) = match by_us {
        true => (Vec::new(), lines),
        false => (lines, Vec::new()),
    };
    let mut pieces: Vec<Piece> = left
        .head
        .iter()
        .map(|head| Piece::Line(head.text.clone()))
        .collect();
    pieces.push(Piece::Clash {
        about: String::new(),
        ours,
        theirs,
    });
    CardPieces {
        pieces,
        blank_end: left.blank_end,
    }
}

/// The pieces of a card that both sides have and changed, and that perhaps stood there before; with the texts of
/// the two sides.
pub fn both(
    (base, ours, theirs): (Option<&Outline>, &Outline, &Outline),
    (our_text, their_text): (&str, &str),
) -> CardPieces {
    let (one, two) = (ours.says(), theirs.says());
    if one == two {
        return untouched(our_text);
    }
    let rough = ours.rough || theirs.rough || base.is_some_and(|base| base.rough);
    let made = match rough {
        true => {
            let flat = base.map(|base| base.clone().flat());
            put_together(flat.as_ref(), &ours.clone().flat(), &theirs.clone().flat())
        }
        false => {
            // Lines at two columns would hang under each other, so all stand where the side has them that moved them.
            let before = base.map(Outline::columns);
            let (one, two) = (ours.columns(), theirs.columns());
            if one == two {
                put_together(base, ours, theirs)
            } else if before.as_ref() == Some(&one) {
                put_together(base, &ours.clone().at_columns(&two), theirs)
            } else {
                put_together(base, ours, &theirs.clone().at_columns(&one))
            }
        }
    };
    if let Some(made) = made.filter(|made| check::holds_all(base, ours, theirs, made)) {
        return made;
    }
    // Nothing better than both writings can be offered.
    match base.map(Outline::says) {
        Some(was) if was == one => untouched(their_text),
        Some(was) if was == two => untouched(our_text),
        _ => side_by_side(base, ours, theirs),
    }
}

fn put_together(base: Option<&Outline>, ours: &Outline, theirs: &Outline) -> Option<CardPieces> {
    let mut pieces = Vec::new();
    head(base, ours, theirs, &mut pieces);
    let before: &[Line] = base.map_or(&[], |base| &base.lines);
    let mut pen = Pen {
        out: &mut pieces,
        about: String::new(),
    };
    // Lines of a rough card may belong to whatever stands above them.
    let ordered = ours.rough;
    if !merge(before, &ours.lines, &theirs.lines, ordered, &mut pen) {
        return None;
    }
    Some(CardPieces {
        pieces,
        blank_end: ours.blank_end,
    })
}

fn side_by_side(base: Option<&Outline>, ours: &Outline, theirs: &Outline) -> CardPieces {
    let mut pieces = Vec::new();
    head(base, ours, theirs, &mut pieces);
    pieces.push(Piece::Clash {
        about: String::new(),
        ours: ours.written(),
        theirs: theirs.written(),
    });
    CardPieces {
        pieces,
        blank_end: ours.blank_end,
    }
}

/// The line that starts the card; two where both renamed it.
fn head(base: Option<&Outline>, ours: &Outline, theirs: &Outline, pieces: &mut Vec<Piece>) {
    let (Some(one), Some(two)) = (&ours.head, &theirs.head) else {
        let only = ours.head.as_ref().or(theirs.head.as_ref());
        pieces.extend(only.map(|head| Piece::Line(head.text.clone())));
        return;
    };
    let was = base.and_then(|base| base.head.as_ref());
    let own = |head: Option<&Line>| head.map(Line::own);
    if own(Some(one)) == own(Some(two)) || own(was) == own(Some(two)) {
        let kept = was.is_some_and(|was| was.text == one.text) && own(Some(one)) == own(Some(two));
        pieces.push(Piece::Line(if kept { two } else { one }.text.clone()));
    } else if own(was) == own(Some(one)) {
        pieces.push(Piece::Line(two.text.clone()));
    } else {
        pieces.push(Piece::Clash {
            about: String::new(),
            ours: vec![one.text.clone()],
            theirs: vec![two.text.clone()],
        });
    }
}
