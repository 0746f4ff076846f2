//! Drawn by a seed: the same seed gives the same draws on every machine.

/// A row of draws (splitmix64).
pub struct Chance(u64);

impl Chance {
    /// The row of a seed, and of a place in the work that it is for.
    pub fn of(seed: u64, place: u64) -> Chance {
        // The place is stirred first: rows of neighboring places would else be one row, begun later.
        let start = Chance(place).next();
        Chance(Chance(seed ^ start).next())
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from `low` to `high`, both of them drawn too.
    pub fn number(&mut self, low: u32, high: u32) -> u32 {
        low + (self.next() % u64::from(high - low + 1)) as u32
    }

    /// Whether something that happens so often in a hundred happens.
    pub fn percent(&mut self, often: u32) -> bool {
        self.number(1, 100) <= often
    }

    /// One of several.
    pub fn one<'a, T: ?Sized>(&mut self, of: &[&'a T]) -> &'a T {
        of[self.number(0, of.len() as u32 - 1) as usize]
    }

    /// Some of several, in their order.
    pub fn some<'a, T: ?Sized>(&mut self, of: &[&'a T], count: usize) -> Vec<&'a T> {
        let mut left = count.min(of.len()) as u32;
        let mut out = Vec::new();
        for (index, word) in of.iter().enumerate() {
            if left > 0 && self.number(1, (of.len() - index) as u32) <= left {
                out.push(*word);
                left -= 1;
            }
        }
        out
    }
}
