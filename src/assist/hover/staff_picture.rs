//! A range drawn on its staff, as a small picture (SVG) that stands inside a hover's text.

use std::fmt::Write;

use crate::music::staff::Clef;
use crate::music::{Pitch, PitchRange};

/// Notes further from the staff than this (in lines and spaces) are not drawn.
const FURTHEST: i32 = 24;

/// Half the distance of two lines, the width of the picture, and where the clef and the notes stand, in pixels.
const STEP: i32 = 4;
const WIDTH: i32 = 132;
const CLEF: i32 = 20;
const NOTES: [i32; 2] = [62, 104];

/// A clef of lines only: its path, drawn around the line that it names, and its dots as `x y radius`.
struct Drawn {
    /// The line it names, in lines and spaces above the lowest.
    height: i32,
    path: &'static str,
    dots: &'static [(f32, f32, f32)],
}

fn clef(clef: Clef) -> Option<Drawn> {
    const C: &str = "M-8 -16V16M-6.6 -16V16M-3 -16V16M-1 -13C7 -19 11 -4 3 -3L-3 0L3 3C11 4 7 19 -1 13";
    Some(match clef {
        Clef::Treble => Drawn {
            height: 2,
            path: "M-2.5 2C-3.5 -2.5 1 -4.5 3.5 -2.5C7 .5 5 8 -.5 8C-9 8 -11 -3 -5 -10C-1 -15 4.5 -18 4.5 -26\
                   C4.5 -30 3 -33 1.5 -33C-1 -33 -2 -27 -1.5 -23L2.5 14C3 20 -4 20 -4.5 16",
            dots: &[(-3.0, 15.5, 2.0)],
        },
        Clef::Bass => Drawn {
            height: 6,
            path: "M-6 -1C-6 -9 8 -10 8 0C8 8 1 13 -6 17",
            dots: &[(-4.5, 0.0, 2.4), (12.0, -4.0, 1.5), (12.0, 4.0, 1.5)],
        },
        Clef::Alto => Drawn {
            height: 4,
            path: C,
            dots: &[],
        },
        Clef::Tenor => Drawn {
            height: 6,
            path: C,
            dots: &[],
        },
        Clef::Grand | Clef::Percussion => return None,
    })
}

/// The two notes of a range on their staff; none for a clef with two staves or none, and for notes too far away.
pub(super) fn of(range: PitchRange, staff: Clef) -> Option<String> {
    let clef = clef(staff)?;
    let height = |pitch: Pitch| {
        pitch
            .position()
            .saturating_sub(staff.bottom_line(pitch).position())
    };
    let notes = [range.low, range.high].map(|pitch| (height(pitch), pitch));
    let drawable = -FURTHEST..=8 + FURTHEST;
    if notes
        .iter()
        .any(|(height, pitch)| !drawable.contains(height) || pitch.alter.abs() > 2)
    {
        return None;
    }
    let top = notes.iter().map(|(height, _)| height + 3).fold(13, i32::max);
    let bottom = notes.iter().map(|(height, _)| height - 3).fold(-6, i32::min);
    let y = |height: i32| (top - height) * STEP;
    let mut lines = String::new();
    let mut drawn = String::new();
    for line in [0, 2, 4, 6, 8] {
        // Writing into a string cannot fail.
        let _ = write!(lines, "M4 {}H{}", y(line), WIDTH - 4);
    }
    let at = y(clef.height);
    let _ = write!(
        drawn,
        r#"<g transform="translate({CLEF} {at})"><path d="{}" fill="none" stroke-width="1.6"/>"#,
        clef.path
    );
    for (x, y, radius) in clef.dots {
        let _ = write!(drawn, r#"<circle cx="{x}" cy="{y}" r="{radius}"/>"#);
    }
    drawn.push_str("</g>");
    for ((height, pitch), x) in notes.into_iter().zip(NOTES) {
        // Lines beyond the staff are drawn up to the note that needs them.
        let above = (10..=height).step_by(2);
        let below = (height..=-2).filter(|line| line % 2 == 0);
        for line in above.chain(below) {
            let _ = write!(lines, "M{} {}H{}", x - 9, y(line), x + 9);
        }
        let at = y(height);
        let _ = write!(
            drawn,
            r#"<ellipse cx="{x}" cy="{at}" rx="5.4" ry="3.6" transform="rotate(-20 {x} {at})"/>"#
        );
        for sign in 0..i32::from(pitch.alter.abs()) {
            let from = x - 13 - 8 * sign;
            let path = match pitch.alter < 0 {
                true => "M-2 -11V4C3 1 4 -4 -2 -2",
                false => "M-1.5 -7V8M1.5 -8V7M-3.5 -2L3.5 -4M-3.5 4L3.5 2",
            };
            let _ = write!(
                drawn,
                r#"<path transform="translate({from} {at})" d="{path}" fill="none" stroke-width="1.3"/>"#
            );
        }
    }
    let tall = (top - bottom) * STEP;
    Some(format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{tall}" viewBox="0 0 {WIDTH} {tall}"><rect width="{WIDTH}" height="{tall}" rx="4" fill="#fff"/><path d="{lines}" stroke="#000"/><g fill="#000" stroke="#000">{drawn}</g></svg>"##
    ))
}

/// A picture as an address that holds it whole.
pub(super) fn address(svg: &str) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::from("data:image/svg+xml;base64,");
    for three in svg.as_bytes().chunks(3) {
        let byte = |at: usize| u32::from(three.get(at).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for place in 0..4 {
            let letter = LETTERS.get((bits >> (18 - 6 * place) & 63) as usize);
            out.push(match letter {
                Some(letter) if place <= three.len() => char::from(*letter),
                _ => '=',
            });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::pitch::Step;

    fn drawn(low: &str, high: &str, clef: Clef) -> String {
        let range = Pitch::read(low)
            .zip(Pitch::read(high))
            .map(|(low, high)| PitchRange::new(low, high));
        range.and_then(|range| of(range, clef)).unwrap_or_default()
    }

    #[test]
    fn notes_stand_where_they_are_read() {
        // C4 hangs on the first line below a treble staff and C5 is in its third space, as every method book's
        // first page shows: with the lowest line at 52, a step of 4 down for each line and space.
        let picture = drawn("C4", "C5", Clef::Treble);
        for wanted in [
            "M4 52H128",
            "M4 20H128",
            "M53 60H71",
            r#"cx="62" cy="60""#,
            r#"cx="104" cy="32""#,
        ] {
            assert!(picture.contains(wanted), "{wanted} in {picture}");
        }
        // B flat on the second line of a bass staff, F on the fourth; one flat before the first.
        let picture = drawn("Bb2", "F3", Clef::Bass);
        for wanted in [r#"cx="62" cy="44""#, r#"cx="104" cy="28""#, "translate(49 44)"] {
            assert!(picture.contains(wanted), "{wanted} in {picture}");
        }
        assert_eq!(picture.matches("M-2 -11").count(), 1);
    }

    #[test]
    fn hostile_heights_are_not_drawn() {
        let far = PitchRange::new(Pitch::new(Step::C, -128, -128), Pitch::new(Step::B, 127, 127));
        assert_eq!(of(far, Clef::Treble), None);
        assert_eq!(drawn("C4", "C5", Clef::Grand), "");
    }

    #[test]
    fn an_address_holds_every_byte() {
        for (text, wanted) in [
            ("", ""),
            ("a", "YQ=="),
            ("ab", "YWI="),
            ("abc", "YWJj"),
            ("<svg>", "PHN2Zz4="),
        ] {
            assert_eq!(address(text), format!("data:image/svg+xml;base64,{wanted}"));
        }
    }
}
