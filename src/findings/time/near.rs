//! When a length is far enough from another to be said.

use crate::catalogue::model::Said;
use crate::music::Clock;
use crate::notation::values::Lasts;

/// Seconds, and part of the longer length, that a length may differ. A fermata, a ritardando, or a
/// conductor's own tempo makes that much; a repeat left out or a digit that slipped makes more. The
/// figures are a choice, no source.
const NEAR: (f64, f64) = (15.0, 0.15);
/// The same where one of the two is only near enough.
const ABOUT: (f64, f64) = (30.0, 0.30);

/// The same for a hint, where both are certain: a wrong tempo or a forgotten repeat of a few measures shows
/// here first.
const HINT: (f64, f64) = (10.0, 0.08);

/// Whether a length that is not far is still far enough for a hint.
pub(super) fn apart(said: &Said<Lasts>, low: f64, high: f64, about: bool) -> bool {
    !said.about && !about && beyond(said, low, high, HINT)
}

/// Whether a length is far from a span of seconds. Two lengths that are both only near enough prove nothing.
pub(super) fn far(said: &Said<Lasts>, low: f64, high: f64, about: bool) -> bool {
    let limit = match (said.about, about) {
        (true, true) => return false,
        (false, false) => NEAR,
        _ => ABOUT,
    };
    beyond(said, low, high, limit)
}

fn beyond(said: &Said<Lasts>, low: f64, high: f64, (seconds, part): (f64, f64)) -> bool {
    let (least, most) = (
        f64::from(said.value.low.seconds()),
        f64::from(said.value.high.seconds()),
    );
    let gap = (low - most).max(least - high);
    gap > seconds && gap > part * low.max(least)
}

/// `3:50`, or `3:40-4:00` where the marks give a span.
pub(super) fn spoken(low: f64, high: f64) -> String {
    Lasts {
        shorter: None,
        low: Clock::from_seconds(low),
        high: Clock::from_seconds(high),
        recorded: None,
    }
    .to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Span;

    /// Pairs on either side of the limits.
    #[test]
    fn near_enough_is_left_alone() {
        let said = |text: &str, about: bool| Said {
            value: Lasts::read(text).expect("a length"),
            span: Span::new(0, 0),
            about,
            open: false,
            partial: false,
        };
        for (text, said_about, seconds, about, expected) in [
            ("1:00", false, 74.0, false, false),
            ("1:00", false, 76.0, false, true),
            ("1:00", false, 46.0, false, false),
            ("5:00", false, 352.0, false, false),
            ("5:00", false, 354.0, false, true),
            ("1:00", true, 89.0, false, false),
            ("1:00", true, 91.0, false, true),
            ("1:00", false, 91.0, true, true),
            ("1:00", true, 600.0, true, false),
            ("3:00-5:00", false, 299.0, false, false),
            ("3:00-5:00", false, 100.0, false, true),
        ] {
            let far = far(&said(text, said_about), seconds, seconds, about);
            assert_eq!(far, expected, "{text} against {seconds}");
        }
        assert!(
            !far(&said("2:00", false), 60.0, 110.0, false),
            "a span reaches nearly there"
        );
    }
}
