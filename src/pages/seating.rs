//! The setup of a band: who sits where, one sheet for the wall. Chairs and stands a row, parts, percussion; no names.

mod evening;
mod ink;
mod layout;
mod plan;

#[cfg(test)]
mod tests;

pub use evening::of_evening;
pub use layout::{Chair, Layout, Name, Row, SHEET, Stand, Strip, layout};
pub use plan::{Block, Plan, Station, StationKind, plan};

use crate::catalogue::Snapshot;
use crate::planning::percussion::Setting;
use crate::planning::winds;

use super::paper::{Paper, Sheet, page};
use crate::text::sentences::counted;
use ink::{Drawing, Ink, Letters};
use layout::CENTER;

/// How high a station of percussion is drawn.
const HIGH: f64 = 44.0;

/// The picture of a setup on a sheet.
pub fn sheet(plan: &Plan, paper: Paper) -> Sheet {
    let mut drawing = Drawing::new(paper);
    let layout = layout(plan);
    for row in &layout.rows {
        draw_row(&mut drawing, row);
    }
    podium(&mut drawing);
    stations(&mut drawing, plan);
    head(&mut drawing, plan);
    totals(&mut drawing, plan);
    legend(&mut drawing, plan);
    if plan.rows.is_empty() {
        drawing.words(
            (CENTER.0, 430.0),
            Letters::new(24.0).bold().middle(),
            "No chairs: the band's card counts no wind players.",
        );
    }
    drawing.finish()
}

/// The setups of pieces as they are played, with the parts on the chairs; `without` are away besides.
pub fn of_settings(snapshot: &Snapshot, settings: &[&Setting], without: &[String]) -> Vec<Plan> {
    settings
        .iter()
        .map(|setting| {
            let piece = Some(setting.piece);
            let absent = setting.winds_absent(snapshot, without);
            let sharing = winds::of_band(snapshot, piece, &setting.bands, &setting.movements, &absent);
            plan(snapshot, &setting.bands, &sharing, piece)
        })
        .collect()
}

/// Setups as one page for a browser, each on a sheet of its own when it is printed.
pub fn html(name: &str, paper: Paper, plans: &[Plan]) -> String {
    let sheets: Vec<Sheet> = plans.iter().map(|plan| sheet(plan, paper)).collect();
    page(&format!("{name}: setup"), paper, &sheets)
}

/// A row as the crew sees it on the floor: a strip for each section with its chairs, the stands on the podium's side,
/// and the number of the row on a mark at its left end.
fn draw_row(drawing: &mut Drawing, row: &Row) {
    for strip in &row.strips {
        drawing.ring(CENTER, strip.radii, strip.ends, 1.2);
    }
    for stand in &row.stands {
        stand_at(drawing, stand);
    }
    for chair in &row.chairs {
        chair_at(drawing, chair);
    }
    for (words, at) in &row.tag.lines {
        drawing.circle(*at, row.tag.size * 0.78, Ink::Black);
        drawing.white_words(*at, Letters::new(row.tag.size).bold().middle(), words);
    }
    for name in &row.names {
        let turned = 90.0 - name.angle;
        for (words, at) in &name.lines {
            drawing.words(*at, Letters::new(name.size).bold().middle().turned(turned), words);
        }
    }
}

/// A seat and its back, away from the podium.
fn chair_at(drawing: &mut Drawing, chair: &Chair) {
    let radius = chair.side * 0.42;
    let thick = (chair.side * 0.04).clamp(0.4, 1.4);
    drawing.circle(chair.at, radius, Ink::White(thick));
    let back = (chair.side * 0.13).clamp(1.0, 5.0);
    drawing.arc(chair.at, radius, (chair.angle - 62.0, chair.angle + 62.0), back);
    if !chair.words.is_empty() {
        let widest = Letters::new(1.0).bold().width(&chair.words);
        let size = (chair.side * 0.62 / widest).min(chair.side * 0.52);
        let letters = Letters::new(size).bold().middle();
        drawing.words(chair.at, letters.turned(90.0 - chair.angle), &chair.words);
    }
}

/// A desk, and its foot toward the players.
fn stand_at(drawing: &mut Drawing, stand: &Stand) {
    let along = (90.0 - stand.angle).to_radians();
    let (half, foot) = (stand.wide / 2.0, stand.wide.min(stand.deep * 1.6) * 0.32);
    let (x, y) = stand.at;
    let side = (half * along.cos(), half * along.sin());
    let desk = (stand.deep * 0.22).clamp(0.8, 3.4);
    drawing.line((x - side.0, y - side.1), (x + side.0, y + side.1), desk);
    let out = stand.angle.to_radians();
    let end = (x + foot * out.cos(), y - foot * out.sin());
    drawing.line((x, y), end, (stand.deep * 0.12).clamp(0.5, 1.8));
}

fn podium(drawing: &mut Drawing) {
    let (x, y) = CENTER;
    drawing.block((x, y), (74.0, 50.0), 5.0, Ink::Black);
    drawing.white_words((x, y), Letters::new(15.0).bold().middle(), "podium");
    // The conductor's own stand.
    drawing.line((x - 24.0, y - 34.0), (x + 24.0, y - 34.0), 5.0);
}

fn head(drawing: &mut Drawing, plan: &Plan) {
    let fit = |words: &str, most: f64| {
        let wide = Letters::new(1.0).bold().width(words).max(0.1);
        (980.0 / wide).min(most)
    };
    drawing.words(
        (36.0, 44.0),
        Letters::new(fit(&plan.band, 32.0)).bold(),
        &plan.band,
    );
    let piece = plan.piece.as_deref().unwrap_or("Where everybody sits");
    drawing.words((36.0, 80.0), Letters::new(fit(piece, 23.0)), piece);
}

/// Percussion in a line behind the last row.
fn stations(drawing: &mut Drawing, plan: &Plan) {
    let count = plan.stations.len();
    if count == 0 {
        return;
    }
    let (left, right, y) = (36.0, SHEET.0 - 36.0, 148.0);
    let weight = |station: &Station| match station.kind {
        StationKind::Timpani(kettles) => 1.0 + 0.35 * kettles as f64,
        StationKind::Mallets => 1.5,
        StationKind::Drum => 1.0,
        StationKind::Table => 1.0 + 1.6 * (station.things.len() as f64 / 6.0).min(1.0),
    };
    let all: f64 = plan.stations.iter().map(weight).sum();
    let mut x = left;
    for station in &plan.stations {
        let wide = (right - left) * weight(station) / all;
        // A few stations do not spread over all of the sheet.
        station_at(drawing, station, (x + wide / 2.0, y), wide * 0.94);
        x += wide;
    }
}

fn station_at(drawing: &mut Drawing, station: &Station, middle: (f64, f64), wide: f64) {
    let (x, y) = middle;
    let high = HIGH;
    let ink = Ink::White(1.8);
    match station.kind {
        StationKind::Timpani(kettles) => {
            let radius = (wide / kettles.max(1) as f64 / 2.0 * 0.95).min(high / 2.0 + 2.0);
            for kettle in 0..kettles {
                let away = (kettle as f64 - (kettles as f64 - 1.0) / 2.0) * radius * 2.08;
                drawing.circle((x + away, y), radius, ink);
                drawing.circle((x + away, y), radius * 0.8, Ink::White(0.8));
            }
        }
        StationKind::Mallets => {
            let half = (wide * 0.42).min(56.0);
            let shape = [
                (x - half, y - high * 0.5),
                (x + half, y - high * 0.28),
                (x + half, y + high * 0.28),
                (x - half, y + high * 0.5),
            ];
            drawing.shape(&shape, 1.8);
            for bar in 1..8 {
                let along = f64::from(bar) / 8.0;
                let tall = high * (0.5 - 0.22 * along);
                let at = x - half + 2.0 * half * along;
                drawing.line((at, y - tall), (at, y + tall), 0.8);
            }
        }
        StationKind::Drum => {
            if station.name.contains("crash") {
                // A pair, one plate half over the other.
                let radius = 14f64.min(wide / 4.0);
                for away in [-0.6, 0.6] {
                    drawing.circle((x + away * radius, y), radius, ink);
                    drawing.circle((x + away * radius, y), 2.0, Ink::Black);
                }
                return name_below(drawing, station, middle, wide);
            }
            let large = ["bass drum", "tam-tam", "gong"].contains(&station.name.as_str());
            let radius: f64 = if large { 22.0 } else { 16.0 };
            drawing.circle((x, y), radius.min(wide / 2.2), ink);
            if station.name.contains("cymbal") || station.name.contains("tam") {
                drawing.circle((x, y), 2.5, Ink::Black);
            }
        }
        StationKind::Table => {
            let table = wide.min(230.0);
            drawing.block((x, y), (table, high), 3.0, ink);
            let words = station.things.join(", ");
            // The number of lines that lets the letters be largest.
            let set = |most: usize| {
                let lines = in_lines(&words, most);
                let by_width = lines
                    .iter()
                    .map(|line| (table - 8.0) / Letters::new(1.0).width(line).max(0.1))
                    .fold(15.0, f64::min);
                let by_height = high * 0.92 / (lines.len() as f64 * 1.15);
                (lines, by_width.min(by_height))
            };
            let (lines, size) = (2..=4)
                .map(set)
                .fold(set(1), |best, next| if next.1 > best.1 { next } else { best });
            for (line, words) in lines.iter().enumerate() {
                let down = (line as f64 - (lines.len() as f64 - 1.0) / 2.0) * size * 1.15;
                drawing.words((x, y + down), Letters::new(size).middle(), words);
            }
        }
    }
    name_below(drawing, station, middle, wide);
}

fn name_below(drawing: &mut Drawing, station: &Station, (x, y): (f64, f64), wide: f64) {
    let numbers: Vec<String> = station.pieces.iter().map(ToString::to_string).collect();
    let words = match numbers.is_empty() {
        true => station.name.clone(),
        false => format!("{} ({})", station.name, numbers.join(", ")),
    };
    let lines = in_lines(&words, 2);
    let size = lines
        .iter()
        .map(|line| wide / Letters::new(1.0).bold().width(line).max(0.1))
        .fold(16.0, f64::min);
    for (line, words) in lines.iter().enumerate() {
        let down = HIGH / 2.0 + 12.0 + line as f64 * size * 1.05;
        drawing.words((x, y + down), Letters::new(size).bold().middle(), words);
    }
}

/// Words in at most so many lines of about one length; a short text stays in one.
fn in_lines(words: &str, most: usize) -> Vec<String> {
    let many = words.chars().count();
    if many < 9 || most < 2 {
        return vec![words.to_owned()];
    }
    // The narrowest width at which they fit in so many lines.
    (many / most..=many)
        .map(|width| broken(words, width))
        .find(|lines| lines.len() <= most)
        .unwrap_or_else(|| vec![words.to_owned()])
}

/// Words in lines of at most so many letters, longer words alone.
fn broken(words: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// What the crew carries in, row by row, in the lower left corner.
fn totals(drawing: &mut Drawing, plan: &Plan) {
    let (mut chairs, mut stands) = (0, 0);
    let mut lines: Vec<String> = Vec::new();
    for (at, row) in plan.rows.iter().enumerate() {
        let (here, desks) = Plan::totals(row);
        chairs += here;
        stands += desks;
        lines.push(format!(
            "row {}: {}, {}",
            at + 1,
            counted(here, "chair"),
            counted(desks, "stand")
        ));
    }
    let all = format!(
        "Bring {} and {}",
        counted(chairs, "chair"),
        counted(stands, "stand")
    );
    let (x, widest) = (36.0, 176.0);
    let high = (112.0 / (lines.len() as f64 + 1.0)).min(20.0);
    let bold = Letters::new(1.0).bold();
    let size = (high * 0.8).min(15.0).min(widest / bold.width(&all).max(0.1));
    let mut y = SHEET.1 - 20.0 - high * lines.len() as f64;
    drawing.words((x, y), Letters::new(size).bold(), &all);
    for line in &lines {
        y += high;
        drawing.words((x, y), Letters::new(size), line);
    }
}

/// What the signs mean, in the lower right corner, with what is to be said beside the picture.
fn legend(drawing: &mut Drawing, plan: &Plan) {
    let right = SHEET.0 - 36.0;
    let on_a_chair = |says: &dyn Fn(&str) -> bool| {
        let mut chairs = plan.rows.iter().flatten().flat_map(|block| &block.chairs);
        chairs.any(|words| says(words))
    };
    let mut lines: Vec<String> = Vec::new();
    if on_a_chair(&|words| words == "–") {
        lines.push("–  no part".to_owned());
    }
    if on_a_chair(&|words| words.chars().any(|c| c.is_ascii_digit())) {
        lines.push("number on a chair: its part".to_owned());
    }
    if plan.usual {
        lines.push("The band's card has no rows, so this is a usual setup.".to_owned());
    }
    lines.extend(plan.notes.iter().cloned());
    let widest = 250.0;
    let mut y = SHEET.1 - 22.0;
    for line in lines.iter().rev().take(4) {
        let size = (widest / Letters::new(1.0).width(line).max(0.1)).min(13.0);
        drawing.words((right, y), Letters::new(size).end(), line);
        y -= 17.0;
    }
    // One stand for two chairs, as it stands in a row.
    let (x, y) = (right - 24.0, y - 20.0);
    let side = 20.0;
    for at in [x - 11.0, x + 11.0] {
        let chair = Chair {
            at: (at, y),
            side,
            angle: 90.0,
            words: String::new(),
        };
        chair_at(drawing, &chair);
    }
    let stand = Stand {
        at: (x, y + 20.0),
        wide: 24.0,
        deep: 12.0,
        angle: 90.0,
    };
    stand_at(drawing, &stand);
    let letters = Letters::new(13.0).end();
    drawing.words(
        (x - 34.0, y + 4.0),
        letters,
        "two chairs and the stand they share",
    );
}
