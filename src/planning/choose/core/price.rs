//! Prices of limits, and what things are worth at them.

use super::Row;

/// Prices are rounded to whole parts of a point of value.
pub const SCALE: i64 = 1 << 16;

/// No price is higher, so that sums stay far within their numbers.
const HIGHEST: f64 = 1e5;

/// Prices of all limits.
#[derive(Debug, Clone)]
pub struct Prices {
    /// For each row the price of its upper and of its lower limit.
    of: Vec<(f64, f64)>,
}

/// For what prices are found.
#[derive(Clone, Copy)]
pub struct Goal<'g> {
    /// The things that are in.
    pub taken: &'g [usize],
    /// The things that may be picked.
    pub open: &'g [usize],
    /// How many of them are.
    pub wanted: usize,
    /// A value that is to be beaten; prices that show that it cannot be are good enough.
    pub target: i64,
}

/// Things at prices.
pub struct Priced {
    /// What each thing is worth less what it costs, in parts of a point; by its number among all things.
    pub worth: Vec<i64>,
    /// What the limits themselves give.
    pub fixed: i64,
}

impl Prices {
    /// Nothing costs anything.
    pub fn none(rows: &[Row]) -> Prices {
        Prices {
            of: vec![(0.0, 0.0); rows.len()],
        }
    }

    fn whole(price: f64) -> i64 {
        (price.clamp(0.0, HIGHEST) * SCALE as f64).round() as i64
    }

    /// What things are worth, in whole numbers; a bound that rests on them is exact.
    pub fn apply(&self, values: &[i64], rows: &[Row]) -> Priced {
        let mut worth: Vec<i64> = values.iter().map(|value| value.saturating_mul(SCALE)).collect();
        let mut fixed = 0i64;
        for (row, (high, low)) in rows.iter().zip(&self.of) {
            let high = row.high.map_or(0, |_| Prices::whole(*high));
            let low = row.low.map_or(0, |_| Prices::whole(*low));
            fixed = fixed
                .saturating_add(high.saturating_mul(row.high.unwrap_or(0)))
                .saturating_sub(low.saturating_mul(row.low.unwrap_or(0)));
            let net = high.saturating_sub(low);
            if net != 0 {
                for (worth, weight) in worth.iter_mut().zip(&row.weights) {
                    *worth = worth.saturating_sub(net.saturating_mul(*weight));
                }
            }
        }
        Priced { worth, fixed }
    }

    /// Prices that make the bound low, found from these in so many rounds.
    pub fn found(&self, values: &[i64], rows: &[Row], goal: Goal<'_>, rounds: usize) -> Prices {
        let Goal {
            taken,
            open,
            wanted,
            target,
        } = goal;
        let mut now = self.clone();
        let mut best = self.clone();
        let mut lowest = f64::INFINITY;
        let mut stride = 1.0f64;
        let mut since = 0;
        let weight = |row: &Row, at: usize| row.weights.get(at).copied().unwrap_or(0) as f64;
        let mut worth: Vec<(f64, usize)> = Vec::with_capacity(open.len());
        for _ in 0..rounds {
            let at_prices = |at: usize| {
                let own = values.get(at).copied().unwrap_or(0) as f64;
                rows.iter()
                    .zip(&now.of)
                    .filter(|(_, (high, low))| high != low)
                    .fold(own, |sum, (row, (high, low))| {
                        sum - (high - low) * weight(row, at)
                    })
            };
            worth.clear();
            worth.extend(open.iter().map(|at| (at_prices(*at), *at)));
            if wanted < worth.len() && wanted > 0 {
                worth.select_nth_unstable_by(wanted - 1, |one, other| other.0.total_cmp(&one.0));
            }
            let picked = || {
                worth
                    .iter()
                    .take(wanted)
                    .map(|(_, at)| *at)
                    .chain(taken.iter().copied())
            };
            let mut bound: f64 = worth.iter().take(wanted).map(|(worth, _)| worth).sum();
            bound += taken.iter().map(|at| at_prices(*at)).sum::<f64>();
            let mut steepness = 0.0;
            let mut slopes: Vec<(f64, f64)> = Vec::with_capacity(rows.len());
            for (row, (high, low)) in rows.iter().zip(&now.of) {
                let sum: f64 = picked().map(|at| weight(row, at)).sum();
                let over = row.high.map_or(0.0, |limit| limit as f64 - sum);
                let under = row.low.map_or(0.0, |limit| sum - limit as f64);
                // The prices of what is picked are in what it is worth already.
                bound += high * row.high.unwrap_or(0) as f64 - low * row.low.unwrap_or(0) as f64;
                // A price of nothing cannot fall.
                let over = if *high <= 0.0 && over > 0.0 { 0.0 } else { over };
                let under = if *low <= 0.0 && under > 0.0 { 0.0 } else { under };
                // Seconds, cents and pieces are brought to one measure by what a limit allows.
                let size = row.size();
                steepness += (over * over + under * under) / (size * size);
                slopes.push((over / (size * size), under / (size * size)));
            }
            if bound < lowest - 1e-9 {
                lowest = bound;
                best = now.clone();
                since = 0;
            } else {
                since += 1;
                if since >= 6 {
                    stride /= 2.0;
                    since = 0;
                }
            }
            if steepness <= 1e-12 || bound < target as f64 || stride < 1e-4 {
                if bound < target as f64 {
                    best = now.clone();
                }
                break;
            }
            let step = stride * (bound - target as f64).max(0.5) / steepness;
            for ((high, low), (over, under)) in now.of.iter_mut().zip(&slopes) {
                *high = (*high - step * over).clamp(0.0, HIGHEST);
                *low = (*low - step * under).clamp(0.0, HIGHEST);
            }
        }
        best
    }
}

impl Row {
    /// How large its sums are about.
    fn size(&self) -> f64 {
        let limit = self.high.or(self.low).unwrap_or(1).unsigned_abs();
        let widest = self.weights.iter().map(|weight| weight.unsigned_abs()).max();
        (limit.min(widest.unwrap_or(1).saturating_mul(8)))
            .max(widest.unwrap_or(1))
            .max(1) as f64
    }
}
