//! A cheapest matching of rows to columns.

use super::evening::Cost;

/// For every row its column, at the least cost in all; none where not every row can have one. The table is square, and
/// where it holds nothing the two do not go together.
///
/// Rows are taken in one after another along cheapest paths, with prices that keep all costs from turning negative
/// (Kuhn 1955, in the form of Jonker and Volgenant 1987).
pub(super) fn cheapest(table: &[Vec<Option<Cost>>]) -> Option<Vec<usize>> {
    let size = table.len();
    let mut price = vec![0 as Cost; size];
    let mut held: Vec<Option<usize>> = vec![None; size];
    let mut own = vec![0 as Cost; size];
    for start in 0..size {
        let mut reach: Vec<Option<Cost>> = vec![None; size];
        let mut from: Vec<Option<usize>> = vec![None; size];
        let mut done = vec![false; size];
        let mut row = start;
        let mut spent: Cost = 0;
        // The column of the row that is looked at; none for the new row.
        let mut at: Option<usize> = None;
        let end = loop {
            for column in 0..size {
                let Some(cost) = table.get(row).and_then(|row| *row.get(column)?) else {
                    continue;
                };
                if done[column] {
                    continue;
                }
                let cost = spent + cost - own[row] - price[column];
                if reach[column].is_none_or(|known| cost < known) {
                    reach[column] = Some(cost);
                    from[column] = at;
                }
            }
            let open = (0..size).filter(|&column| !done[column] && reach[column].is_some());
            let next = open.min_by_key(|&column| reach[column])?;
            done[next] = true;
            spent = reach[next]?;
            match held[next] {
                None => break next,
                Some(holder) => {
                    row = holder;
                    at = Some(next);
                }
            }
        };
        // The prices of all that was reached change by what is left of the way.
        own[start] += spent;
        for column in (0..size).filter(|&column| done[column] && column != end) {
            let left = spent - reach[column].unwrap_or(spent);
            price[column] -= left;
            if let Some(holder) = held[column] {
                own[holder] += left;
            }
        }
        let mut column = end;
        loop {
            match from[column] {
                Some(before) => {
                    held[column] = held[before];
                    column = before;
                }
                None => {
                    held[column] = Some(start);
                    break;
                }
            }
        }
    }
    let mut columns = vec![0; size];
    for (column, row) in held.into_iter().enumerate() {
        *columns.get_mut(row?)? = column;
    }
    Some(columns)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn by_trying(table: &[Vec<Option<Cost>>], row: usize, taken: u32) -> Option<Cost> {
        let Some(costs) = table.get(row) else {
            return Some(0);
        };
        let free = costs
            .iter()
            .enumerate()
            .filter(|(column, _)| taken >> column & 1 == 0);
        free.filter_map(|(column, cost)| Some((*cost)? + by_trying(table, row + 1, taken | 1 << column)?))
            .min()
    }

    proptest! {
        #[test]
        fn as_cheap_as_any_other(
            table in (1..6usize).prop_flat_map(|size| {
                let row = proptest::collection::vec(proptest::option::weighted(0.8, 0..20 as Cost), size);
                proptest::collection::vec(row, size)
            })
        ) {
            let found = cheapest(&table);
            let cost = found.as_ref().map(|columns| {
                columns.iter().zip(&table).map(|(column, row)| row[*column].unwrap_or(9999)).sum::<Cost>()
            });
            prop_assert_eq!(cost, by_trying(&table, 0, 0));
            if let Some(mut columns) = found {
                columns.sort_unstable();
                columns.dedup();
                prop_assert_eq!(columns.len(), table.len());
            }
        }
    }
}
