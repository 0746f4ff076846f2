//! What a license allows: `30 printed copies until 2028-06-30, may stream, no recording`.

use std::fmt;

use super::cursor::Cursor;
use super::day::Day;

/// One item of a license.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum License {
    /// So many copies may be printed.
    Prints {
        /// How many.
        count: u32,
        /// Until when.
        until: Option<Day>,
    },
    /// Something is allowed, or not.
    May {
        /// What.
        what: Use,
        /// Whether it is.
        allowed: bool,
        /// Until when.
        until: Option<Day>,
    },
    /// All of it ends on a day.
    Until(Day),
}

/// What one may do with a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Use {
    /// Show the performance over the net.
    Stream,
    /// Make a recording.
    Record,
    /// Copy parts.
    Copy,
    /// Perform it.
    Perform,
}

const USES: [(&str, Use); 22] = [
    ("live stream", Use::Stream),
    ("live-stream", Use::Stream),
    ("livestream", Use::Stream),
    ("live streaming", Use::Stream),
    ("be streamed", Use::Stream),
    ("streaming", Use::Stream),
    ("stream", Use::Stream),
    ("be recorded", Use::Record),
    ("recordings", Use::Record),
    ("recording", Use::Record),
    ("record", Use::Record),
    ("video", Use::Record),
    ("be copied", Use::Copy),
    ("photocopying", Use::Copy),
    ("photocopies", Use::Copy),
    ("photocopy", Use::Copy),
    ("copying", Use::Copy),
    ("copy", Use::Copy),
    ("be performed", Use::Perform),
    ("performing", Use::Perform),
    ("performance", Use::Perform),
    ("perform", Use::Perform),
];

impl License {
    /// The day on which it ends, where it is about copies or all of it; a permission that ends stops nobody
    /// from playing.
    pub fn ends(self) -> Option<Day> {
        match self {
            License::Until(day) => Some(day),
            License::Prints { until, .. } => until,
            License::May { what, until, .. } => until.filter(|_| matches!(what, Use::Perform | Use::Copy)),
        }
    }

    /// Reads one item: `30 printed copies until 2028-06-30`, `prints 30`, `may stream`, `no streaming`,
    /// `may be recorded`, `no photocopying`, `until 2028-06-30`.
    pub fn read(text: &str) -> Option<License> {
        let mut words = Cursor::new(text);
        if words.any(&["until", "through", "expires on", "expires", "ends"]) {
            let day = words.longest(Day::read)?;
            return words.done().then_some(License::Until(day));
        }
        // `print rights for one school`: so many copies as the school wants.
        if words.any(&[
            "print rights",
            "printing rights",
            "rights to print",
            "license to print",
            "may be printed",
        ]) {
            words.any(&[
                "for one school",
                "for our school",
                "for the school",
                "for one building",
                "for one site",
                "for one ensemble",
                "for one band",
            ]);
            let until = until(&mut words)?;
            return words.done().then_some(License::May {
                what: Use::Copy,
                allowed: true,
                until,
            });
        }
        let prints = words.any(&["may print", "prints", "print"]);
        if let Some(count) = words.number() {
            let named = words.any(&[
                "printed copies",
                "printed copy",
                "copies",
                "copy",
                "prints",
                "print",
            ]);
            (prints || named).then_some(())?;
            let until = until(&mut words)?;
            return words.done().then_some(License::Prints { count, until });
        }
        if prints {
            return None;
        }
        let allowed = !words.any(&["may not", "must not", "not to", "cannot", "no"]);
        if allowed {
            words.any(&["may", "can", "ok to", "okay to", "permission to", "allowed to"]);
        }
        let what = words.one_of(&USES)?;
        if allowed {
            words.any(&["allowed", "ok", "okay", "permitted", "licensed", "only"]);
        } else {
            words.any(&["of any part", "allowed"]);
        }
        let until = until(&mut words)?;
        words.done().then_some(License::May { what, allowed, until })
    }
}

/// `until 2028-06-30`, or nothing; none where it cannot be read.
fn until(words: &mut Cursor<'_>) -> Option<Option<Day>> {
    match words.any(&["until", "through", "till"]) {
        true => words.longest(Day::read).map(Some),
        false => Some(None),
    }
}

impl fmt::Display for License {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let until = match self {
            License::Until(day) => return write!(f, "until {day}"),
            License::Prints { count, until } => {
                write!(f, "{count} printed cop{}", if *count == 1 { "y" } else { "ies" })?;
                until
            }
            License::May { what, allowed, until } => {
                let (yes, no) = match what {
                    Use::Stream => ("may stream", "no streaming"),
                    Use::Record => ("may record", "no recording"),
                    Use::Copy => ("may copy", "no copying"),
                    Use::Perform => ("may perform", "may not perform"),
                };
                f.write_str(if *allowed { yes } else { no })?;
                until
            }
        };
        match until {
            Some(day) => write!(f, " until {day}"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn licenses_are_read_as_directors_write_them() {
        for (written, one_form) in [
            (
                "30 printed copies until 2028-06-30",
                Some("30 printed copies until 2028-06-30"),
            ),
            ("prints 30", Some("30 printed copies")),
            ("may stream", Some("may stream")),
            ("no streaming", Some("no streaming")),
            ("may be recorded", Some("may record")),
            ("no photocopying of any part", Some("no copying")),
            ("performance only", Some("may perform")),
            ("until 2028-06-30", Some("until 2028-06-30")),
            ("30", None),
            ("30 zqxv copies", None),
            ("no zqxv streaming", None),
            ("may stream zqxv", None),
            ("30 printed copies until zqxv", None),
        ] {
            let read = License::read(written);
            let shown = read.map(|license| license.to_string());
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| License::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
