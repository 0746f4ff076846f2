//! A set-up diagram: who sits where, one sheet for the wall. Chairs and stands a row, parts, percussion; no names.

mod layout;
mod plan;

#[cfg(test)]
mod tests;

pub use layout::{Chair, Layout, Name, Row, SHEET, Stand, layout};
pub use plan::{Block, Plan, Station, StationKind, plan};

use crate::catalogue::Snapshot;
use crate::planning::percussion::Setting;
use crate::planning::winds;

use super::draw::{Drawing, Ink, Letters, landscape};
use super::paper::Paper;
use layout::CENTER;

/// How dark a shaded block is.
const SHADE: &str = "#d4d4d4";

/// The picture of a set-up as SVG 1.1, on a landscape sheet of letter paper.
pub fn svg(plan: &Plan) -> String {
    let name = match &plan.piece {
        Some(piece) => format!("{}: setup for {piece}", plan.band),
        None => format!("{}: setup", plan.band),
    };
    let mut drawing = Drawing::new(SHEET.0, SHEET.1, &name);
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

/// The set-ups of pieces as they are played, with the parts on the chairs; `without` are away besides.
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

/// Set-ups as one page for a browser, each on a sheet of its own when it is printed.
pub fn html(name: &str, paper: Paper, plans: &[Plan]) -> String {
    let pictures: Vec<String> = plans.iter().map(svg).collect();
    landscape(&format!("{name}: setup"), paper, &pictures)
}

fn draw_row(drawing: &mut Drawing, row: &Row) {
    let line = Ink {
        fill: "none",
        line: "#c8c8c8",
        thick: 1.0,
    };
    let (from, to) = row.ends;
    drawing.arc(CENTER, row.radius, from, to, line);
    for stand in &row.stands {
        // A desk, and its foot toward the players.
        let turned = 90.0 - stand.angle;
        drawing.block(
            stand.at,
            (stand.wide, (stand.wide * 0.13).clamp(1.0, 5.0)),
            1.0,
            turned,
            Ink::filled("black", 0.0),
        );
    }
    for chair in &row.chairs {
        let turned = 90.0 - chair.angle;
        let fill = if chair.shaded { SHADE } else { "white" };
        let thick = (chair.side * 0.06).clamp(0.5, 2.2);
        drawing.block(
            chair.at,
            (chair.side, chair.side),
            chair.side * 0.24,
            turned,
            Ink::filled(fill, thick),
        );
        if !chair.words.is_empty() {
            let widest = Letters::new(1.0).bold().width(&chair.words);
            let size = (chair.side * 0.86 / widest).min(chair.side * 0.66);
            let way = if chair.words.chars().count() > 2 {
                turned
            } else {
                0.0
            };
            drawing.words(
                chair.at,
                Letters::new(size).bold().middle().turned(way),
                &chair.words,
            );
        }
    }
    for (words, at) in &row.tag.lines {
        let letters = Letters::new(row.tag.size).middle();
        drawing.words_in(*at, letters, "#555", words);
    }
    for name in &row.names {
        let turned = 90.0 - name.angle;
        for (words, at) in &name.lines {
            drawing.words(*at, Letters::new(name.size).bold().middle().turned(turned), words);
        }
    }
}

fn podium(drawing: &mut Drawing) {
    let (x, y) = CENTER;
    drawing.block((x, y), (74.0, 50.0), 5.0, 0.0, Ink::filled("black", 0.0));
    drawing.words_in((x, y), Letters::new(15.0).bold().middle(), "white", "podium");
    // The conductor's own stand.
    drawing.line((x - 24.0, y - 34.0), (x + 24.0, y - 34.0), Ink::line(5.0));
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
    let piece = plan.piece.as_deref().unwrap_or("Set-up by sections");
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
    let high = 44.0;
    let ink = Ink::filled("white", 1.8);
    match station.kind {
        StationKind::Timpani(kettles) => {
            let radius = (wide / kettles.max(1) as f64 / 2.0 * 0.95).min(high / 2.0 + 2.0);
            for kettle in 0..kettles {
                let away = (kettle as f64 - (kettles as f64 - 1.0) / 2.0) * radius * 2.08;
                drawing.circle((x + away, y), radius, ink);
                drawing.circle((x + away, y), radius * 0.8, Ink::line(0.8));
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
            drawing.shape(&shape, ink);
            for bar in 1..8 {
                let along = f64::from(bar) / 8.0;
                let tall = high * (0.5 - 0.22 * along);
                let at = x - half + 2.0 * half * along;
                drawing.line((at, y - tall), (at, y + tall), Ink::line(0.8));
            }
        }
        StationKind::Drum => {
            let large = ["bass drum", "tam-tam", "gong"].contains(&station.name.as_str());
            let radius: f64 = if large { 22.0 } else { 16.0 };
            drawing.circle((x, y), radius.min(wide / 2.2), ink);
            if station.name.contains("cymbal") || station.name.contains("tam") {
                drawing.circle((x, y), 2.5, Ink::filled("black", 0.0));
            }
        }
        StationKind::Table => {
            let table = wide.min(230.0);
            drawing.block((x, y), (table, high), 3.0, 0.0, ink);
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
    let lines = in_lines(&station.name, 2);
    let size = lines
        .iter()
        .map(|line| wide / Letters::new(1.0).bold().width(line).max(0.1))
        .fold(16.0, f64::min);
    for (line, words) in lines.iter().enumerate() {
        let down = high / 2.0 + 12.0 + line as f64 * size * 1.05;
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

/// Chairs and stands a row, in the lower left corner.
fn totals(drawing: &mut Drawing, plan: &Plan) {
    let (x, columns) = (36.0, [92.0, 168.0]);
    let count = plan.rows.len();
    let high = (106.0 / (count as f64 + 2.0)).min(21.0);
    let size = (high * 0.82).min(17.0);
    let mut y = SHEET.1 - 24.0 - high * (count as f64 + 1.0);
    let mut line = |words: [String; 3], bold: bool| {
        let letters = if bold {
            Letters::new(size).bold()
        } else {
            Letters::new(size)
        };
        let [first, second, third] = words;
        drawing.words((x, y), letters, &first);
        drawing.words((x + columns[0], y), letters.end(), &second);
        drawing.words((x + columns[1], y), letters.end(), &third);
        y += high;
    };
    line(["row".into(), "chairs".into(), "stands".into()], true);
    let (mut chairs, mut stands) = (0, 0);
    for (at, row) in plan.rows.iter().enumerate() {
        let (here, desks) = Plan::totals(row);
        chairs += here;
        stands += desks;
        line(
            [format!("{}", at + 1), here.to_string(), desks.to_string()],
            false,
        );
    }
    line(["all".into(), chairs.to_string(), stands.to_string()], true);
}

/// What the signs mean, in the lower right corner, with what is to be said beside the picture.
fn legend(drawing: &mut Drawing, plan: &Plan) {
    let right = SHEET.0 - 36.0;
    let mut lines: Vec<String> = Vec::new();
    if plan
        .rows
        .iter()
        .flatten()
        .any(|block| block.chairs.iter().any(|chair| chair == "–"))
    {
        lines.push("–  no part in this piece".to_owned());
    }
    let shown = |c: &String| c.chars().any(|c| c.is_ascii_digit());
    if plan
        .rows
        .iter()
        .flatten()
        .any(|block| block.chairs.iter().any(shown))
    {
        lines.push("number on a chair: its part".to_owned());
    }
    if plan.usual {
        lines.push("No rows on the band's card: a usual setup.".to_owned());
    }
    lines.extend(plan.notes.iter().cloned());
    let widest = 330.0;
    let mut y = SHEET.1 - 24.0;
    for line in lines.iter().rev().take(4) {
        let size = (widest / Letters::new(1.0).width(line).max(0.1)).min(13.0);
        drawing.words((right, y), Letters::new(size).end(), line);
        y -= 18.0;
    }
    // One stand for two chairs.
    let (x, y) = (right - 26.0, y - 26.0);
    let side = 22.0;
    for at in [x - 13.0, x + 13.0] {
        drawing.block((at, y), (side, side), 5.0, 0.0, Ink::filled("white", 1.4));
    }
    drawing.block((x, y + 18.0), (22.0, 3.5), 1.0, 0.0, Ink::filled("black", 0.0));
    drawing.words(
        (x - 36.0, y + 6.0),
        Letters::new(13.0).end(),
        "two chairs, one stand",
    );
}
