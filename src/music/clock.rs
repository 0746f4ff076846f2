//! Lengths of time as a director writes them: `5:05`, `20 minutes`.

use super::words;
use std::fmt;

/// A length of time in whole seconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Clock(pub u32);

impl Clock {
    /// The nearest whole second; what is below zero or no number counts as zero.
    pub fn from_seconds(seconds: f64) -> Clock {
        // A cast from a floating number stops at the ends and turns "no number" into zero.
        Clock(seconds.round() as u32)
    }

    /// The length in seconds.
    pub fn seconds(self) -> u32 {
        self.0
    }

    /// The sum, held at the largest that can be written.
    pub fn plus(self, other: Clock) -> Clock {
        Clock(self.0.saturating_add(other.0))
    }

    /// Reads `5:05`, `1:02:03`, `3'10"`, `3’10”`, `20 minutes`, `2.5 minutes`, `20 min`, `45 s`,
    /// `3 min 10 s`, `1 hour 10 minutes`. A bare number is not read: it may be either unit.
    pub fn read(text: &str) -> Option<Clock> {
        let text = words::tidy(text);
        if text.contains(':') {
            return read_colons(&text);
        }
        let plain = text
            .replace(['’', '′', '\''], " minutes ")
            .replace(['”', '″', '"'], " seconds ");
        read_units(&plain)
    }
}

fn read_colons(text: &str) -> Option<Clock> {
    let parts: Option<Vec<u32>> = text.split(':').map(|p| words::digits(p.trim())).collect();
    let parts = parts?;
    let (first, rest) = parts.split_first()?;
    if rest.is_empty() || rest.len() > 2 || rest.iter().any(|p| *p > 59) {
        return None;
    }
    // A figure after the colon has two digits, so `3:5` is not three minutes five.
    if text.split(':').skip(1).any(|p| p.trim().len() != 2) {
        return None;
    }
    let mut total = *first;
    for part in rest {
        total = total.checked_mul(60)?.checked_add(*part)?;
    }
    Some(Clock(total))
}

fn read_units(text: &str) -> Option<Clock> {
    let mut spaced = String::new();
    let mut was_figure = false;
    for c in text.chars() {
        let figure = c.is_ascii_digit() || c == '.';
        if was_figure && !figure {
            spaced.push(' ');
        }
        spaced.push(c);
        was_figure = figure;
    }
    let mut all: Vec<&str> = spaced.split_whitespace().filter(|w| *w != "and").collect();
    // `4 minutes 10`: what follows the minutes is seconds, in two digits.
    if let [.., unit, last] = all.as_slice()
        && unit.starts_with("min")
        && last.len() == 2
        && words::digits(last).is_some_and(|seconds| seconds < 60)
    {
        all.push("seconds");
    }
    if all.is_empty() || !all.len().is_multiple_of(2) {
        return None;
    }
    let mut total = 0_u32;
    let mut last = u32::MAX;
    for pair in all.chunks(2) {
        let [number, unit] = pair else { return None };
        let each = match unit.trim_end_matches('.') {
            "h" | "hr" | "hrs" | "hour" | "hours" => 3600,
            "m" | "min" | "mins" | "minute" | "minutes" => 60,
            "s" | "sec" | "secs" | "second" | "seconds" => 1,
            _ => return None,
        };
        if each >= last {
            return None;
        }
        last = each;
        total = total.checked_add(amount(number, each)?)?;
    }
    Some(Clock(total))
}

/// A number, whole or with decimals, of units of `each` seconds, to the nearest second.
fn amount(number: &str, each: u32) -> Option<u32> {
    if let Some(whole) = words::count(number) {
        return whole.checked_mul(each);
    }
    let (whole, part) = number.split_once('.')?;
    if part.len() > 4 {
        return None;
    }
    let whole = words::digits(whole)?;
    let scale = 10_u32.pow(u32::try_from(part.len()).ok()?);
    let part = words::digits(part)?;
    let rounded = (part.checked_mul(each)? + scale / 2) / scale;
    whole.checked_mul(each)?.checked_add(rounded)
}

impl fmt::Display for Clock {
    /// Minutes and seconds, `5:05`; from an hour on `1:02:03`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (hours, minutes, seconds) = (self.0 / 3600, self.0 / 60 % 60, self.0 % 60);
        match hours {
            0 => write!(f, "{minutes}:{seconds:02}"),
            _ => write!(f, "{hours}:{minutes:02}:{seconds:02}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Clock;
    use proptest::prelude::*;

    #[test]
    fn read_and_recopied() {
        let table = [
            ("5:05", "5:05"),
            ("20 minutes", "20:00"),
            ("3'10\"", "3:10"),
            ("3’10”", "3:10"),
            ("3'", "3:00"),
            ("45 s", "0:45"),
            ("45s", "0:45"),
            ("3 min. 10 sec.", "3:10"),
            ("2.5 minutes", "2:30"),
            ("1 hour and 10 minutes", "1:10:00"),
            ("1:02:03", "1:02:03"),
            ("75:00", "1:15:00"),
            ("five minutes", "5:00"),
            ("4 minutes 10", "4:10"),
        ];
        for (given, copied) in table {
            let got = Clock::read(given).map(|c| c.to_string());
            assert_eq!(got.as_deref(), Some(copied), "{given}");
        }
        for given in [
            "",
            "5",
            "3:5",
            "3:60",
            ":30",
            "1:2:3:4",
            "3 s 2 min",
            "minutes",
            "99999999:00",
        ] {
            assert_eq!(Clock::read(given), None, "{given}");
        }
        assert_eq!(Clock::from_seconds(f64::NAN), Clock(0));
    }

    proptest! {
        #[test]
        fn any_length(seconds in any::<u32>(), text in "\\PC{0,20}") {
            let clock = Clock(seconds % 100_000_000);
            prop_assert_eq!(Clock::read(&clock.to_string()), Some(clock));
            let _ = Clock::read(&text);
        }
    }
}
