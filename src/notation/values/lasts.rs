//! A length of time, or a span from one to another: `3:10`, `3-5 minutes`.

use std::fmt;

use super::number_words;
use crate::music::Clock;

/// How long something lasts, from–to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Lasts {
    /// The shorter length.
    pub low: Clock,
    /// The longer length; the same as the shorter for a single one.
    pub high: Clock,
    /// How long the recording lasts, where that is said.
    pub recorded: Option<Clock>,
    /// How long it lasts where the repeats are left out, where that is said.
    pub shorter: Option<Clock>,
}

impl Lasts {
    /// One length, and nothing else said.
    pub fn exactly(clock: Clock) -> Lasts {
        Lasts {
            low: clock,
            high: clock,
            recorded: None,
            shorter: None,
        }
    }

    /// Reads `3:10`, `20 minutes`, `3-5 minutes`, `3:00-3:30`, `2:50 on the recording, 3:10 with us`.
    pub fn read(text: &str) -> Option<Lasts> {
        if let Some((whole, short)) = text.split_once([',', ';'])
            && let Some(shorter) = without_repeats(short)
        {
            return Some(Lasts {
                shorter: Some(shorter),
                ..Lasts::read(whole)?
            });
        }
        let sourced: Option<Vec<(Lasts, bool)>> = text.split(',').map(by_its_source).collect();
        match sourced?.as_slice() {
            [(lasts, recorded)] => Some(Lasts {
                recorded: recorded.then_some(lasts.low),
                ..*lasts
            }),
            // What the band itself needs is what a concert is figured with.
            [(ours, false), (theirs, true)] | [(theirs, true), (ours, false)] => Some(Lasts {
                recorded: Some(theirs.low),
                ..*ours
            }),
            _ => None,
        }
    }

    /// One length or span of lengths.
    fn plain(text: &str) -> Option<Lasts> {
        if let Some(minutes) = in_hours(text) {
            return Lasts::plain(&format!("{minutes} minutes"));
        }
        let halves = text
            .replace(" and a quarter", ".25")
            .replace(" and three quarters", ".75")
            .replace(" and a half", ".5")
            .replace(" 1/2", ".5")
            .replace('½', ".5")
            .replace(" .5", ".5");
        let figures = in_figures(halves.trim());
        let text = figures.as_str();
        // As it is played, repeats and all, is how long it lasts.
        let played = [
            "with the repeats",
            "with the repeat",
            "with all repeats",
            "with all the repeats",
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
            return Some(Lasts::exactly(clock));
        }
        let (first, second) = text
            .split_once(['-', '–', '—'])
            .or_else(|| text.split_once(" to "))?;
        let second = in_figures(second.trim());
        let high = Clock::read(&second)?;
        let unit = second
            .trim_start()
            .trim_start_matches(|c: char| c.is_ascii_digit() || c == ':' || c == '.');
        let low = match first.contains(':') {
            true => Clock::read(first)?,
            // `3-5 minutes`: the unit behind the second number serves the first as well.
            false => Clock::read(&format!("{}{unit}", first.trim()))?,
        };
        (low <= high).then_some(Lasts {
            low,
            high,
            recorded: None,
            shorter: None,
        })
    }
}

/// `2:10 if you skip the repeat`, `2:10 without repeats`.
fn without_repeats(text: &str) -> Option<Clock> {
    let tails = [
        "if you skip the repeats",
        "if you skip the repeat",
        "if you skip the rpt",
        "if u skip the repeat",
        "if u skip the rpt",
        "if we skip the repeat",
        "if we skip the repeats",
        "skipping the repeat",
        "without the repeats",
        "without the repeat",
        "without repeats",
        "without repeat",
        "w/o repeats",
        "w/o the repeat",
        "w/o repeat",
        "no repeats",
        "no repeat",
    ];
    let text = text.trim();
    let head = tails.iter().find_map(|tail| text.strip_suffix(tail))?;
    head.ends_with(' ').then_some(())?;
    let lasts = Lasts::plain(head.trim())?;
    (lasts.low == lasts.high).then_some(lasts.low)
}

/// Minutes that are said in hours: `half an hour`, `an hour and a quarter`.
fn in_hours(text: &str) -> Option<u32> {
    let lower = text.trim().to_lowercase();
    let said = lower.split_whitespace().collect::<Vec<_>>().join(" ");
    Some(match said.as_str() {
        "a quarter of an hour" | "quarter of an hour" | "quarter hour" | "a quarter hour" => 15,
        "half an hour" | "a half hour" | "half hour" | "half a hour" | "1/2 hour" | "half hr"
        | "half an hr" | "a half hr" => 30,
        "three quarters of an hour" | "three-quarters of an hour" | "3/4 hour" => 45,
        "an hour" | "one hour" => 60,
        "an hour and a quarter" => 75,
        "an hour and a half" | "one and a half hours" | "hour and a half" => 90,
        _ => return None,
    })
}

/// `three.5 minutes` is `3.5 minutes`: the number at the start in figures, where it is written out.
fn in_figures(text: &str) -> String {
    let end = text.find([' ', '.']).unwrap_or(text.len());
    let (first, rest) = text.split_at(end);
    number_words::read(first).map_or_else(|| text.to_owned(), |number| format!("{number}{rest}"))
}

/// A length without the words that say whose it is, and whether it is the recording's.
fn by_its_source(text: &str) -> Option<(Lasts, bool)> {
    const RECORDED: [&str; 6] = [
        "on the recording",
        "on recording",
        "on the demo",
        "recorded",
        "on the cd",
        "recording",
    ];
    const OURS: [&str; 10] = [
        "with my kids",
        "with our kids",
        "with my band",
        "with our band",
        "with us",
        "for us",
        "our tempo",
        "at our tempo",
        "when we play it",
        "ours",
    ];
    let text = text.trim();
    let lower = text.to_lowercase();
    let before = |tails: &[&str]| {
        tails.iter().find_map(|tail| {
            let head = lower.strip_suffix(tail)?;
            head.ends_with(' ').then_some(())?;
            text.get(..head.len()).map(str::trim)
        })
    };
    if let Some(head) = before(&RECORDED) {
        return Some((Lasts::plain(head)?, true));
    }
    Some((Lasts::plain(before(&OURS).unwrap_or(text))?, false))
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
        match self.recorded {
            Some(clock) if clock == self.low => f.write_str(" on the recording")?,
            Some(clock) => write!(f, ", {clock} on the recording")?,
            None => {}
        }
        match self.shorter {
            Some(clock) => write!(f, ", {clock} without repeats"),
            None => Ok(()),
        }
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
            ("3 and a half minutes", Some("3:30")),
            ("2½ minutes", Some("2:30")),
            ("three and a half minutes", Some("3:30")),
            ("four minutes", Some("4:00")),
            ("Two to three minutes", Some("2:00-3:00")),
            ("three zqxv minutes", None),
            ("1:45 w the repeat", Some("1:45")),
            ("3:10 with repeats", Some("3:10")),
            ("with repeats", None),
            ("2:50 on the recording", Some("2:50 on the recording")),
            ("3:10 with us", Some("3:10")),
            (
                "2:50 on the recording, 3:10 with us",
                Some("3:10, 2:50 on the recording"),
            ),
            ("2:50 on the zqxv", None),
            ("2:50, 3:10", None),
            ("2:50 on the recording, zqxv", None),
            ("5-3 minutes", None),
            ("a while", None),
        ] {
            assert_eq!(
                Lasts::read(written).map(|lasts| lasts.to_string()).as_deref(),
                one_form,
                "{written}"
            );
            let read = Lasts::read(written);
            let again = read.and_then(|lasts| Lasts::read(&lasts.to_string()));
            assert_eq!(again, read, "{written} again");
        }
        let span = Lasts::read("3:00-5:00").map(|lasts| (lasts.low.seconds(), lasts.high.seconds()));
        assert_eq!(span, Some((180, 300)));
    }
}
