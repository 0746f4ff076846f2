//! A length of time, or a span from one to another: `3:10`, `3-5 minutes`.

use std::fmt;

use crate::music::Clock;

/// How long something lasts, from–to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Lasts {
    /// The shorter length.
    pub low: Clock,
    /// The longer length; the same as the shorter for a single one.
    pub high: Clock,
}

impl Lasts {
    /// Reads `3:10`, `20 minutes`, `3-5 minutes`, `3:00-3:30`.
    pub fn read(text: &str) -> Option<Lasts> {
        let halves = text.replace(" 1/2", ".5").replace('½', ".5").replace(" .5", ".5");
        let text = halves.trim();
        // As it is played, repeats and all, is how long it lasts.
        let played = [
            "with the repeats",
            "with the repeat",
            "with repeats",
            "with repeat",
            "w the repeats",
            "w the repeat",
            "w/ repeats",
            "w/ repeat",
            "w repeats",
            "w repeat",
        ];
        let text = played
            .iter()
            .find_map(|words| text.strip_suffix(words))
            .unwrap_or(text)
            .trim_end();
        if let Some(clock) = Clock::read(text) {
            return Some(Lasts {
                low: clock,
                high: clock,
            });
        }
        let (first, second) = text
            .split_once(['-', '–', '—'])
            .or_else(|| text.split_once(" to "))?;
        let high = Clock::read(second)?;
        let unit = second
            .trim_start()
            .trim_start_matches(|c: char| c.is_ascii_digit() || c == ':' || c == '.');
        let low = match first.contains(':') {
            true => Clock::read(first)?,
            // `3-5 minutes`: the unit behind the second number serves the first as well.
            false => Clock::read(&format!("{}{unit}", first.trim()))?,
        };
        (low <= high).then_some(Lasts { low, high })
    }
}

impl Lasts {
    /// As `45 minutes` where it is whole minutes, for lengths that nobody counts in seconds.
    pub fn in_minutes(self) -> String {
        let minutes = self.low.seconds() / 60;
        match self.low == self.high && self.low.seconds() == minutes * 60 {
            true => format!("{minutes} minute{}", if minutes == 1 { "" } else { "s" }),
            false => self.to_string(),
        }
    }
}

impl fmt::Display for Lasts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.low.fmt(f)?;
        if self.high != self.low {
            write!(f, "-{}", self.high)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("3:10", Some("3:10")),
            ("3-5 minutes", Some("3:00-5:00")),
            ("3:00-3:30", Some("3:00-3:30")),
            ("3:00 to 3:30", Some("3:00-3:30")),
            ("3 1/2 min", Some("3:30")),
            ("2½ minutes", Some("2:30")),
            ("1:45 w the repeat", Some("1:45")),
            ("3:10 with repeats", Some("3:10")),
            ("with repeats", None),
            ("5-3 minutes", None),
            ("a while", None),
        ] {
            assert_eq!(
                Lasts::read(written).map(|lasts| lasts.to_string()).as_deref(),
                one_form,
                "{written}"
            );
        }
        let span = Lasts::read("3:00-5:00").map(|lasts| (lasts.low.seconds(), lasts.high.seconds()));
        assert_eq!(span, Some((180, 300)));
    }
}
