//! The page laid out: the largest type with which it fits on one sheet; smaller than can be read from six feet
//! it is not set, but spread over more sheets with the heads repeated.

use std::ops::Range;

use crate::pages::paper::{Area, Face, Paper, Sheet};

use super::cell::{self, Sizes};
use super::grid::{self, Columns, Grid, Room, Row, RowOf};
use super::{DoorPage, foot, winds};

/// The edge that printers leave white, in points; common practice, no source.
const EDGE: f64 = 24.0;
/// The largest type of an instrument's name; a single piece for a few players fills its sheet with it.
const LARGEST: f64 = 40.0;
/// The largest type of the winds; they are looked for from nearer.
const LARGEST_WINDS: f64 = 16.0;
/// The type may be set smaller by this share, so that the winds go on the same sheet.
const LEAST_SHARE: f64 = 0.7;
/// How much higher than it has to be a row may be drawn, in parts of its height.
const STRETCH: f64 = 0.35;
/// The smallest type that is read from six feet. An eye of 20/20 tells letters apart that are five minutes of
/// arc high (from memory), at six feet 2.7 mm; capitals of 11 points are 2.7 mm high.
const READABLE: f64 = 11.0;
/// The smallest type, where a cell would be higher than a sheet otherwise.
const SMALLEST: f64 = 6.0;

/// A sheet, and where everything is on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// What is drawn.
    pub sheet: Sheet,
    /// The places, none of which overlap.
    pub places: Vec<(Place, Area)>,
    /// The size of an instrument's name.
    pub name_size: f64,
}

/// What stands in a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// The concert and its date.
    Title,
    /// A head over a column: a player, or nothing for the columns at the sides.
    Head(Option<usize>),
    /// A piece's title.
    Piece(usize),
    /// What a player does in a piece: the piece, the player.
    Cell(usize, usize),
    /// What is left out of a piece.
    LeftOut(usize),
    /// What is carried: the change, and the player, or nothing at the sides.
    Carry(usize, Option<usize>),
    /// The winds: from this row on.
    Winds(usize),
    /// The floor plan.
    Floor,
    /// The notes.
    Notes,
}

/// The heights of what stands over the rows.
struct Heads {
    title: f64,
    players: f64,
}

/// Lays the page out.
pub fn sheets(door: &DoorPage, paper: Paper) -> Vec<Laid> {
    let (wide, high) = paper.size();
    let whole = Area::new(0.0, 0.0, wide, high).within(EDGE);
    let unit = high / 612.0;
    let title = 38.0 * unit;
    let foot = foot::height(door, whole.wide, high);
    let at = |name: f64, kept: f64| {
        let room = Room {
            wide: whole.wide,
            high: whole.high - title - heads(name),
            foot: if foot > 0.0 { foot + 6.0 * unit } else { 0.0 } + kept,
        };
        (Grid::of(door, Sizes { name }, room), room)
    };
    let gap = 10.0 * unit;
    let (mut grid, mut room) = best(&|name| at(name, 0.0), unit);
    let mut winds_told = door.winds.rows.is_empty() || door.pieces.is_empty();
    // Somewhat smaller type, if with it the winds go on the same sheet.
    if !winds_told && grid.count() == 1 && !grid.cut {
        let with_winds = [1.0, 0.85, 0.7].into_iter().find_map(|part| {
            let size = (LARGEST_WINDS * unit * part).max(READABLE);
            let block = winds::in_room(&door.winds, (whole.wide, whole.high), size, size)?;
            let found = best(&|name| at(name, block.high(&door.winds) + gap), unit);
            let readable = found.0.sizes.name >= grid.sizes.name * LEAST_SHARE;
            (found.0.count() == 1 && !found.0.cut && readable).then_some(found)
        });
        if let Some((one, its_room)) = with_winds {
            (grid, room) = (one, its_room);
        }
    }
    let heads = Heads {
        title,
        players: heads(grid.sizes.name),
    };
    let mut laid = Vec::new();
    let mut told = 0;
    let count = grid.count();
    for columns in &grid.columns {
        for (nth, rows) in grid.sheets.iter().enumerate() {
            let number = laid.len() + 1;
            let mut one = begun(door, paper, whole, &heads, (number, count), grid.sizes.name);
            let last = number == grid.sheets.len() * grid.columns.len() && !grid.foot_alone;
            // The same height on the last sheet of every group of players.
            let low = nth + 1 == grid.sheets.len() && !grid.foot_alone;
            let high = if low { room.high - room.foot } else { room.high };
            let foot_top = whole.bottom() - if foot > 0.0 { foot + 6.0 * unit } else { 0.0 };
            let end = table(&mut one, door, &grid, columns, rows.clone(), whole, &heads, high);
            // Below a table that fills only a part of its sheet the winds have room.
            let size = (whole.wide, foot_top - end - gap);
            if last
                && !winds_told
                && let Some(block) = winds::in_room(&door.winds, size, LARGEST_WINDS * unit, READABLE)
            {
                let area = Area::new(whole.x, end + gap, whole.wide, block.high(&door.winds));
                winds::draw(
                    &mut one.sheet,
                    &door.winds,
                    &block,
                    0..door.winds.rows.len(),
                    area,
                );
                one.places.push((Place::Winds(0), area));
                winds_told = true;
            }
            if last && foot > 0.0 {
                let area = Area::new(whole.x, whole.bottom() - foot, whole.wide, foot);
                told = feet(&mut one, door, area);
            }
            laid.push(one);
        }
    }
    if grid.foot_alone {
        let mut one = begun(door, paper, whole, &heads, (count, count), grid.sizes.name);
        let top = whole.y + heads.title;
        let high = foot.min(whole.bottom() - top);
        told = feet(&mut one, door, Area::new(whole.x, top, whole.wide, high));
        laid.push(one);
    }
    if !winds_told {
        let top = whole.y + heads.title + 6.0 * unit;
        let size = (whole.wide, whole.bottom() - top);
        for (block, rows) in winds::on_sheets(&door.winds, size, LARGEST_WINDS * unit, READABLE) {
            let mut one = begun(door, paper, whole, &heads, (1, 1), grid.sizes.name);
            let area = Area::new(whole.x, top, whole.wide, block.high(&door.winds).min(size.1));
            winds::draw(&mut one.sheet, &door.winds, &block, rows.clone(), area);
            one.places.push((Place::Winds(rows.start), area));
            laid.push(one);
        }
    }
    // What the foot has no room for.
    let rest = door.notes.get(told..).unwrap_or(&[]);
    let top = whole.y + heads.title + 6.0 * unit;
    let area = Area::new(whole.x, top, whole.wide, whole.bottom() - top);
    for (size, lines) in foot::on_sheets(rest, (area.wide, area.high)) {
        let mut one = begun(door, paper, whole, &heads, (1, 1), grid.sizes.name);
        foot::draw_lines(&mut one.sheet, &lines, size, area);
        one.places.push((Place::Notes, area));
        laid.push(one);
    }
    laid
}

/// The height of the row of seats.
fn heads(name: f64) -> f64 {
    name * 1.7
}

/// The fewest sheets in readable type, and then the largest type.
fn best(at: &dyn Fn(f64) -> (Grid, Room), unit: f64) -> (Grid, Room) {
    // Smaller type rather than a word in two; but a word that is too long for any size does not decide.
    for cut_word in [false, true] {
        let mut found: Option<(Grid, Room)> = None;
        let mut name = LARGEST * unit;
        while name >= READABLE {
            let one = at(name);
            let fewer = found
                .as_ref()
                .is_none_or(|(grid, _)| one.0.count() < grid.count());
            if !one.0.cut && fewer && (cut_word || !one.0.cut_word) {
                let done = one.0.count() == 1;
                found = Some(one);
                if done {
                    break;
                }
            }
            name -= 0.5;
        }
        if let Some(found) = found {
            return found;
        }
    }
    let mut name = READABLE;
    loop {
        name -= 1.0;
        let one = at(name);
        if !one.0.cut || name <= SMALLEST {
            return one;
        }
    }
}

fn begun(
    door: &DoorPage,
    paper: Paper,
    whole: Area,
    heads: &Heads,
    (number, count): (usize, usize),
    name_size: f64,
) -> Laid {
    let mut sheet = Sheet::new(paper);
    let area = Area::new(whole.x, whole.y, whole.wide, heads.title);
    let unit = heads.title / 38.0;
    let big = Face::bold(30.0 * unit);
    let base = area.y + 27.0 * unit;
    let half = area.wide * 0.55;
    sheet.words(area.x, base, big, &door.concert, half);
    let right = area.wide - half - 12.0;
    let mut date = door.date.clone();
    if count > 1 {
        date = match date.is_empty() {
            true => format!("sheet {number} of {count}"),
            false => format!("{date}   sheet {number} of {count}"),
        };
    }
    sheet.words_before(
        area.right(),
        area.y + 15.0 * unit,
        Face::bold(17.0 * unit),
        &date,
        right,
    );
    let place = Face::plain(13.0 * unit);
    sheet.words_before(area.right(), area.y + 32.0 * unit, place, &door.place, right);
    Laid {
        sheet,
        places: vec![(Place::Title, area)],
        name_size,
    }
}

/// Draws the foot; says how many notes stand there.
fn feet(laid: &mut Laid, door: &DoorPage, area: Area) -> usize {
    let foot = foot::draw(&mut laid.sheet, door, area);
    laid.places.extend(foot.floor.map(|area| (Place::Floor, area)));
    laid.places.extend(foot.notes.map(|area| (Place::Notes, area)));
    foot.told
}

/// Draws the heads and some rows; gives where they end.
#[expect(clippy::too_many_arguments)]
fn table(
    laid: &mut Laid,
    door: &DoorPage,
    grid: &Grid,
    columns: &Columns,
    rows: Range<usize>,
    whole: Area,
    heads: &Heads,
    high: f64,
) -> f64 {
    let mut edges = vec![whole.x, whole.x + grid.left];
    for wide in &columns.wide {
        edges.push(edges.last().copied().unwrap_or(whole.x) + wide);
    }
    if columns.wide.is_empty() {
        edges.push(whole.right() - grid.right);
    }
    edges.push(whole.right());
    let top = whole.y + heads.title;
    seats(
        laid,
        door,
        grid,
        columns,
        &edges,
        Area::new(whole.x, top, whole.wide, heads.players),
    );
    let rows: &[Row] = grid.rows.get(rows).unwrap_or(&[]);
    let natural: f64 = rows.iter().map(|row| row.high).sum();
    let pieces = rows
        .iter()
        .filter(|row| matches!(row.what, RowOf::Piece(_)))
        .count();
    // Some of what is left goes to the rows, the same to every piece.
    let tallest = rows.iter().map(|row| row.high).fold(0.0, f64::max);
    let more = ((high - natural) / pieces.max(1) as f64).clamp(0.0, tallest * STRETCH);
    let mut y = top + heads.players;
    let below = y;
    for row in rows {
        let wanted = match row.what {
            RowOf::Piece(_) => row.high + more,
            RowOf::Change(_) => row.high,
        };
        let tall = wanted.min(top + heads.players + high - y);
        let band = Area::new(whole.x, y, whole.wide, tall);
        cells(laid, door, grid, columns, &edges, row, band);
        y += tall;
    }
    if rows.is_empty() {
        y += high.max(0.0);
        laid.sheet.words(
            whole.x + 6.0,
            below + 24.0,
            Face::plain(14.0),
            "There is no piece in this program yet.",
            whole.wide - 12.0,
        );
    }
    for x in edges.iter().skip(1).take(edges.len().saturating_sub(2)) {
        laid.sheet.rule((*x, below), (*x, y), 1.2);
    }
    for (from, to) in [
        ((whole.x + 1.25, top), (whole.x + 1.25, y)),
        ((whole.right() - 1.25, top), (whole.right() - 1.25, y)),
        ((whole.x, y - 1.25), (whole.right(), y - 1.25)),
    ] {
        laid.sheet.rule(from, to, 2.5);
    }
    y
}

/// The seats over the columns, white on black.
fn seats(laid: &mut Laid, door: &DoorPage, grid: &Grid, columns: &Columns, edges: &[f64], band: Area) {
    laid.sheet.block(band);
    let face = Face::bold(grid.sizes.name * 1.35).white();
    let side = Face::bold(grid.sizes.name * 0.62).white();
    let last = edges.len().saturating_sub(2);
    for (at, pair) in edges.windows(2).enumerate() {
        let [left, right] = pair else { continue };
        // Where nothing is left out on the whole page, that column is not there.
        if right - left < 1.0 {
            continue;
        }
        let area = Area::new(*left, band.y, right - left, band.high);
        let middle = area.x + area.wide / 2.0;
        let base = area.y + area.high * 0.5;
        let most = area.wide - 8.0;
        let player = at.checked_sub(1).map(|nth| columns.players.start + nth);
        let player = player.filter(|player| *player < columns.players.end);
        match player.and_then(|at| door.players.get(at)) {
            Some(player) => {
                let (seat, low) = match player.band.is_empty() {
                    true => (face, base + face.size * 0.36),
                    false => (Face::bold(face.size * 0.72).white(), base + face.size * 0.12),
                };
                laid.sheet.words_amid(middle, low, seat, &player.seat, most);
                let low = area.bottom() - side.size * 0.32;
                laid.sheet.words_amid(middle, low, side, &player.band, most);
            }
            None if at == 0 => {
                laid.sheet.words(
                    area.x + 6.0,
                    base + side.size * 0.36,
                    side,
                    match door.players.is_empty() {
                        true => "The program",
                        false => "Look down your column",
                    },
                    most,
                );
            }
            None if at == last => {
                laid.sheet
                    .words(area.x + 6.0, base + side.size * 0.36, side, "Left out", most);
            }
            None => {}
        }
        laid.places.push((Place::Head(player), area));
    }
}

fn cells(
    laid: &mut Laid,
    door: &DoorPage,
    grid: &Grid,
    columns: &Columns,
    edges: &[f64],
    row: &Row,
    band: Area,
) {
    let sizes = grid.sizes;
    let last = edges.len().saturating_sub(2);
    let carry = matches!(row.what, RowOf::Change(_));
    let top = if carry {
        sizes.name * 0.25
    } else {
        sizes.name * 0.35
    };
    for (at, pair) in edges.windows(2).enumerate() {
        let [left, right] = pair else { continue };
        // Where nothing is left out on the whole page, that column is not there.
        if right - left < 1.0 {
            continue;
        }
        let area = Area::new(*left, band.y, right - left, band.high);
        let mut inside = Area::new(
            area.x + sizes.pad(),
            area.y + top,
            area.wide - 2.0 * sizes.pad(),
            area.high - top,
        );
        let player = at.checked_sub(1).map(|nth| columns.players.start + nth);
        let player = player.filter(|player| *player < columns.players.end);
        let lines: &[_] = match player {
            Some(player) => row.cells.get(player).map_or(&[], Vec::as_slice),
            None if at == 0 => &row.left,
            None if at == last => &row.right,
            None => &[],
        };
        let place = match (row.what, player) {
            (RowOf::Piece(piece), Some(player)) => Place::Cell(piece, player),
            (RowOf::Piece(piece), None) if at == 0 => Place::Piece(piece),
            (RowOf::Piece(piece), None) if at == last => Place::LeftOut(piece),
            // Where there are no players, the column between is empty.
            (RowOf::Piece(_), None) => continue,
            (RowOf::Change(change), player) => Place::Carry(change, player),
        };
        if let (0, RowOf::Piece(piece)) = (at, row.what) {
            let number = door.pieces.get(piece).map_or("", |piece| piece.number.as_str());
            let shift = grid::number_wide(number, sizes);
            let face = Face::bold(sizes.name * 1.9);
            laid.sheet.words(
                inside.x,
                inside.y + face.size * 0.74,
                face,
                number,
                shift - sizes.name * 0.4,
            );
            inside = Area::new(inside.x + shift, inside.y, inside.wide - shift, inside.high);
        }
        cell::draw(&mut laid.sheet, lines, inside);
        laid.places.push((place, area));
    }
    let thick = if carry { 0.8 } else { 2.0 };
    if carry {
        laid.sheet.dashes((band.x, band.y), (band.right(), band.y), thick);
    } else {
        laid.sheet.rule((band.x, band.y), (band.right(), band.y), thick);
    }
}
