//! Names that one or two slips of the hand turn into each other, found without comparing all with all.

use std::sync::OnceLock;

/// So many titles with the same two quarters are a series, no slips of each other.
const SERIES: usize = 16;

/// So many names at most are looked at that share what is left when one letter is left out. Letters make fewer;
/// more would take the square of their number.
const MOST: usize = 64;

/// How many letters a title has at least for two slips in it to be a slip at all.
const LONG: usize = 12;

/// What names are found by that are near to another, put together when somebody asks.
#[derive(Debug, Default)]
pub(super) struct Near {
    tables: OnceLock<Tables>,
}

#[derive(Debug)]
struct Tables {
    /// Every name by every way to leave out one letter: two names one slip apart meet in one of these.
    one: Table,
    /// Long names by every two of their four quarters: two slips leave two quarters as they were, unless two
    /// letters have changed places across the border of two.
    two: Option<Table>,
}

impl Near {
    /// Forgets what was put together, when a name comes in.
    pub fn forget(&mut self) {
        self.tables.take();
    }

    /// The numbers of names that may be near, each once, in their order. `all` gives the letters of all names,
    /// numbered from 0; `two` says whether two slips are looked for in long ones.
    pub fn of<I: Iterator<Item = Vec<char>>>(
        &self,
        letters: &[char],
        two: bool,
        all: impl Fn() -> I,
    ) -> Vec<u32> {
        let tables = self.tables.get_or_init(|| Tables::of(all(), two));
        let hashes = Hashes::of(letters);
        let mut found: Vec<u32> = Vec::new();
        for digest in hashes.variants() {
            found.extend(tables.one.with(digest).take(MOST));
        }
        if let Some(two) = tables.two.as_ref().filter(|_| letters.len() + 2 >= LONG) {
            hashes.shifted(letters.len(), |digest| {
                let before = found.len();
                found.extend(two.with(digest).take(SERIES + 1));
                if found.len() - before > SERIES {
                    found.truncate(before);
                }
            });
        }
        found.sort_unstable();
        found.dedup();
        found
    }
}

impl Tables {
    fn of(names: impl Iterator<Item = Vec<char>>, two: bool) -> Tables {
        let (mut one, mut quarters) = (Vec::new(), Vec::new());
        for (number, letters) in (0u32..).zip(names) {
            let hashes = Hashes::of(&letters);
            one.extend(hashes.variants().map(|digest| (digest, number)));
            if two && letters.len() >= LONG {
                let bounds = bounds(letters.len());
                let quarter = |at: usize| bounds.get(at).copied();
                quarters.extend(PAIRS.iter().filter_map(|which| {
                    let (first, second) = (quarter(which.0)?, quarter(which.1)?);
                    Some((hashes.pair(letters.len(), *which, first, second)?, number))
                }));
            }
        }
        Tables {
            one: Table::of(&one),
            two: (!quarters.is_empty()).then(|| Table::of(&quarters)),
        }
    }
}

/// Digests with their numbers, those of one digest side by side.
#[derive(Debug)]
struct Table {
    /// Where the digests of each beginning start.
    starts: Vec<u32>,
    all: Vec<(u32, u32)>,
    shift: u32,
}

impl Table {
    fn of(digests: &[(u32, u32)]) -> Table {
        let bits = (usize::BITS - digests.len().leading_zeros()).clamp(1, 24);
        let shift = 32 - bits;
        let bucket = |digest: u32| (digest >> shift) as usize;
        let mut starts = vec![0u32; (1 << bits) + 1];
        for (digest, _) in digests {
            if let Some(count) = starts.get_mut(bucket(*digest) + 1) {
                *count += 1;
            }
        }
        let mut sum = 0;
        for count in &mut starts {
            sum += *count;
            *count = sum;
        }
        let mut next = starts.clone();
        let mut all = vec![(0, 0); digests.len()];
        for one in digests {
            let Some(place) = next.get_mut(bucket(one.0)) else {
                continue;
            };
            if let Some(slot) = all.get_mut(*place as usize) {
                *slot = *one;
            }
            *place += 1;
        }
        Table { starts, all, shift }
    }

    /// The numbers with a digest, in the order they were added.
    fn with(&self, digest: u32) -> impl Iterator<Item = u32> + '_ {
        let bucket = (digest >> self.shift) as usize;
        let ends = self.starts.get(bucket).zip(self.starts.get(bucket + 1));
        let bucket = ends.and_then(|(from, to)| self.all.get(*from as usize..*to as usize));
        let all = bucket.unwrap_or(&[]).iter();
        all.filter(move |(found, _)| *found == digest)
            .map(|(_, number)| *number)
    }
}

/// Digests of stretches of a name, each in one step.
struct Hashes {
    /// Of the first letters, up to all of them.
    heads: Vec<u64>,
    powers: Vec<u64>,
}

const BASE: u64 = 0x9e37_79b9_7f4a_7c15;

/// Spreads a number over all its bits (the finisher of splitmix64).
fn spread(mut x: u64) -> u64 {
    x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^ (x >> 31)
}

impl Hashes {
    fn of(letters: &[char]) -> Hashes {
        let mut heads = Vec::with_capacity(letters.len() + 1);
        let mut powers = Vec::with_capacity(letters.len() + 1);
        let (mut head, mut power) = (0u64, 1u64);
        heads.push(head);
        powers.push(power);
        for letter in letters {
            head = head
                .wrapping_mul(BASE)
                .wrapping_add(spread(u64::from(*letter) + 1));
            power = power.wrapping_mul(BASE);
            heads.push(head);
            powers.push(power);
        }
        Hashes { heads, powers }
    }

    fn length(&self) -> usize {
        self.heads.len().saturating_sub(1)
    }

    /// Of the letters from one place to another.
    fn stretch(&self, from: usize, to: usize) -> Option<u64> {
        let (head, all) = (self.heads.get(from)?, self.heads.get(to)?);
        let power = self.powers.get(to.checked_sub(from)?)?;
        Some(all.wrapping_sub(head.wrapping_mul(*power)))
    }

    /// Of the whole name, and of the name with each letter left out.
    fn variants(&self) -> impl Iterator<Item = u32> + '_ {
        let length = self.length();
        let whole = self.stretch(0, length);
        let without = (0..length).map(move |at| {
            let rest = length - at - 1;
            let head = self.heads.get(at)?.wrapping_mul(*self.powers.get(rest)?);
            Some(head.wrapping_add(self.stretch(at + 1, length)?))
        });
        std::iter::once(whole).chain(without).flatten().map(short)
    }

    /// Of two quarters of a title of so many letters.
    fn pair(
        &self,
        length: usize,
        which: (usize, usize),
        first: (usize, usize),
        second: (usize, usize),
    ) -> Option<u32> {
        let (first, second) = (self.stretch(first.0, first.1)?, self.stretch(second.0, second.1)?);
        let seed = (length as u64) << 8 | (which.0 as u64) << 4 | which.1 as u64;
        Some(short(
            spread(first ^ seed.wrapping_mul(BASE)).wrapping_add(second),
        ))
    }

    /// Hands over the digests of all titles that two slips may have made of this one: two quarters stand as they
    /// were, moved by the letters that came in or fell out before them.
    fn shifted(&self, length: usize, mut take: impl FnMut(u32)) {
        const MOST: isize = 2;
        for all in -MOST..=MOST {
            let other = length.checked_add_signed(-all).filter(|other| *other >= LONG);
            let Some(other) = other else { continue };
            let quarters = bounds(other);
            for before in -MOST..=MOST {
                for between in -MOST..=MOST {
                    let after = all - before - between;
                    if before.abs() + between.abs() + after.abs() > MOST {
                        continue;
                    }
                    let moved = |quarter: usize, by: isize| {
                        let (from, to) = quarters.get(quarter)?;
                        Some((from.checked_add_signed(by)?, to.checked_add_signed(by)?))
                    };
                    for which in PAIRS {
                        let first = moved(which.0, before);
                        let second = moved(which.1, before + between);
                        if let (Some(first), Some(second)) = (first, second)
                            && let Some(digest) = self.pair(other, which, first, second)
                        {
                            take(digest);
                        }
                    }
                }
            }
        }
    }
}

fn short(digest: u64) -> u32 {
    (spread(digest) >> 32) as u32
}

/// Where the quarters of so many letters begin and end.
fn bounds(length: usize) -> [(usize, usize); 4] {
    [0, 1, 2, 3].map(|quarter| (length * quarter / 4, length * (quarter + 1) / 4))
}

/// Every two quarters, by their places.
const PAIRS: [(usize, usize); 6] = [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)];
