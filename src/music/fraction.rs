//! Exact lengths: parts of a whole note.

use std::cmp::Ordering;

/// A length as a part of a whole note, always in lowest terms: a quarter is 1/4.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Fraction {
    numerator: u32,
    denominator: u32,
}

impl Fraction {
    /// `numerator/denominator` in lowest terms; `None` for a zero denominator.
    pub fn new(numerator: u32, denominator: u32) -> Option<Self> {
        if denominator == 0 {
            return None;
        }
        let by = common(numerator, denominator).max(1);
        Some(Self {
            numerator: numerator / by,
            denominator: denominator / by,
        })
    }

    /// As [`Fraction::new`], for a denominator known not to be zero; zero counts as one.
    pub(crate) fn of(numerator: u32, denominator: u32) -> Self {
        let by = common(numerator, denominator.max(1)).max(1);
        Self {
            numerator: numerator / by,
            denominator: denominator.max(1) / by,
        }
    }

    /// The upper number.
    pub fn numerator(self) -> u32 {
        self.numerator
    }

    /// The lower number, never zero.
    pub fn denominator(self) -> u32 {
        self.denominator
    }

    /// The value as a floating number, for arithmetic in seconds.
    pub fn value(self) -> f64 {
        f64::from(self.numerator) / f64::from(self.denominator)
    }

    /// How many of `unit` this length holds; `None` for an empty unit.
    pub fn in_units_of(self, unit: Fraction) -> Option<f64> {
        (unit.numerator != 0).then(|| self.value() / unit.value())
    }
}

impl PartialOrd for Fraction {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Fraction {
    fn cmp(&self, other: &Self) -> Ordering {
        let left = u64::from(self.numerator) * u64::from(other.denominator);
        let right = u64::from(other.numerator) * u64::from(self.denominator);
        left.cmp(&right)
    }
}

fn common(a: u32, b: u32) -> u32 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::Fraction;

    #[test]
    fn lowest_terms() {
        let six_eight = Fraction::new(6, 8).map(|f| (f.numerator(), f.denominator()));
        assert_eq!(six_eight, Some((3, 4)));
        assert_eq!(Fraction::new(1, 0), None);
        assert!(Fraction::new(3, 4) > Fraction::new(5, 8));
    }
}
