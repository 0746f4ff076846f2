//! A set of small numbers, kept as bits.

/// A set of the numbers below a size fixed when it is made.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Bits(Vec<u64>);

impl Bits {
    /// The empty set, with room for the numbers below `size`.
    pub(super) fn empty(size: usize) -> Self {
        Bits(vec![0; size.div_ceil(64)])
    }

    /// All numbers below `size`.
    pub(super) fn full(size: usize) -> Self {
        let mut all = Bits::empty(size);
        (0..size).for_each(|at| all.insert(at));
        all
    }

    /// A set of the given numbers below `size`.
    pub(super) fn of(size: usize, members: &[usize]) -> Self {
        let mut set = Bits::empty(size);
        members.iter().for_each(|&at| set.insert(at));
        set
    }

    pub(super) fn insert(&mut self, at: usize) {
        if let Some(word) = self.0.get_mut(at / 64) {
            *word |= 1 << (at % 64);
        }
    }

    pub(super) fn remove(&mut self, at: usize) {
        if let Some(word) = self.0.get_mut(at / 64) {
            *word &= !(1 << (at % 64));
        }
    }

    pub(super) fn has(&self, at: usize) -> bool {
        self.0.get(at / 64).is_some_and(|word| word >> (at % 64) & 1 == 1)
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }

    pub(super) fn len(&self) -> usize {
        self.0.iter().map(|word| word.count_ones() as usize).sum()
    }

    /// Whether the two share no number.
    pub(super) fn apart(&self, other: &Bits) -> bool {
        self.0.iter().zip(&other.0).all(|(a, b)| a & b == 0)
    }

    /// How many numbers the two share.
    pub(super) fn shared(&self, other: &Bits) -> usize {
        let pairs = self.0.iter().zip(&other.0);
        pairs.map(|(a, b)| (a & b).count_ones() as usize).sum()
    }

    /// Keeps what the other has too.
    pub(super) fn keep(&mut self, other: &Bits) {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a &= b);
    }

    /// Takes out what the other has.
    pub(super) fn drop_all(&mut self, other: &Bits) {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a &= !b);
    }

    /// Adds what the other has.
    pub(super) fn add(&mut self, other: &Bits) {
        self.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a |= b);
    }

    /// The least number in it.
    pub(super) fn first(&self) -> Option<usize> {
        self.iter().next()
    }

    /// Its numbers, rising.
    pub(super) fn iter(&self) -> impl Iterator<Item = usize> {
        self.0.iter().enumerate().flat_map(|(at, &word)| {
            let mut left = word;
            std::iter::from_fn(move || {
                (left != 0).then(|| {
                    let bit = left.trailing_zeros() as usize;
                    left &= left - 1;
                    at * 64 + bit
                })
            })
        })
    }
}
