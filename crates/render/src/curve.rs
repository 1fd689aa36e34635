//! Curves over time: what happens at each spot, with its range, and the lines they are held against.
//!
//! Curves in one unit share a drawing ([`charts`]). [`Drawing::new`] lays one out in numbers, [`Drawing::svg`] draws it
//! one to one; [`Chart::table`] says the same in a few numbers.

use care::what_if::{Curve, Limit, Point, Range, Unit};

use crate::amounts::{self, Scale};
use crate::svg::{Anchor, Svg};
use crate::wording;

/// For a desk.
pub const DESK: f64 = 760.0;
/// For a phone.
pub const PHONE: f64 = 356.0;

/// Curves in one unit, and the lines they are held against.
#[derive(Clone, Debug)]
pub struct Chart<'a> {
    /// Their unit.
    pub unit: Unit,
    /// The curves.
    pub curves: Vec<&'a Curve>,
    /// The lines.
    pub limits: Vec<&'a Limit>,
}

/// The charts of an answer: one for each unit, in the order of the curves. Limits belong to the unit of the first curve.
pub fn charts<'a>(curves: &'a [Curve], limits: &'a [Limit]) -> Vec<Chart<'a>> {
    let mut charts: Vec<Chart<'a>> = Vec::new();
    for curve in curves.iter().filter(|curve| !curve.points.is_empty()) {
        match charts.iter_mut().find(|chart| chart.unit == curve.unit) {
            Some(chart) => chart.curves.push(curve),
            None => {
                let limits = if charts.is_empty() { limits.iter().collect() } else { Vec::new() };
                charts.push(Chart { unit: curve.unit, curves: vec![curve], limits });
            }
        }
    }
    charts
}

/// Steps of time at which labels and rows stand, in minutes.
const STEPS: [f64; 18] = [
    1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 180.0, 360.0, 720.0, 1_440.0, 2_880.0, 7_200.0, 14_400.0, 43_200.0,
    86_400.0, 525_600.0,
];

/// Round times from the first to the last, at most so many.
fn round_times(first: f64, last: f64, most: usize) -> Vec<f64> {
    let span = (last - first).max(0.0);
    let step = STEPS.into_iter().find(|step| span / step < most as f64).unwrap_or(span.max(1.0));
    let begin = (first / step).ceil() as i64;
    let end = (last / step).floor() as i64;
    (begin..=end).take(most).map(|index| index as f64 * step).collect()
}

impl Chart<'_> {
    fn span(&self) -> (f64, f64) {
        let minutes = || self.curves.iter().flat_map(|curve| curve.points.iter().map(|point| point.minutes));
        (minutes().fold(f64::INFINITY, f64::min), minutes().fold(f64::NEG_INFINITY, f64::max))
    }

    /// Until when the curves are drawn: a while after the last of them has settled, so that the beginning is not pressed
    /// into the margin.
    fn end(&self) -> f64 {
        const SETTLED: f64 = 0.03;
        const LONGER: f64 = 1.5;
        let (first, last) = self.span();
        let (low, high) = self.reach();
        let ends = |range: Range| [range.low, range.mid, range.high];
        let moves = |curve: &&Curve| {
            let settled = ends(curve.points.last()?.range);
            let is_off = |point: &&Point| {
                let off = ends(point.range).into_iter().zip(settled).map(|(one, end)| (one - end).abs());
                off.filter(|off| off.is_finite()).any(|off| SETTLED * (high - low) < off)
            };
            curve.points.iter().rev().find(is_off).map(|point| point.minutes)
        };
        let still = self.curves.iter().filter_map(moves).fold(first, f64::max);
        if still <= first { last } else { (first + LONGER * (still - first)).min(last) }
    }

    /// A few chosen times down, the curves across: the point nearest to each time.
    pub fn table(&self) -> (Vec<String>, Vec<Vec<String>>) {
        const MOST: usize = 9;
        let (first, last) = (self.span().0, self.end());
        let mut times = round_times(first, last, MOST);
        let apart = times.windows(2).map(|pair| pair.iter().rev().copied().reduce(|b, a| b - a).unwrap_or(1.0)).next();
        if times.last().is_none_or(|end| apart.unwrap_or(0.0) / 4.0 < last - end) {
            times.push(last);
        }
        let head =
            std::iter::once("After".to_owned()).chain(self.curves.iter().map(|curve| wording::capital(&curve.says)));
        let near = |curve: &Curve, minutes: f64| -> Option<Point> {
            let off = |point: &&Point| (point.minutes - minutes).abs();
            let point = curve.points.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
            (off(&point) <= apart.unwrap_or(last - first) / 2.0 + 1e-9).then_some(*point)
        };
        let row = |minutes: &f64| {
            let cell = |curve: &&Curve| {
                near(curve, *minutes).map_or("–".to_owned(), |point| amounts::full(point.range, self.unit))
            };
            std::iter::once(amounts::elapsed(*minutes)).chain(self.curves.iter().map(cell)).collect()
        };
        (head.collect(), times.iter().map(row).collect())
    }

    /// What is drawn, in one sentence.
    pub fn sentence(&self) -> String {
        let (first, last) = self.span();
        let part = |curve: &&Curve| {
            let (from, to) = (curve.points.first(), curve.points.last());
            match (from, to) {
                (Some(from), Some(to)) => format!(
                    "{} from {} to {}",
                    curve.says,
                    amounts::middle(from.range, self.unit),
                    amounts::full(to.range, self.unit)
                ),
                _ => curve.says.clone(),
            }
        };
        let curves: Vec<String> = self.curves.iter().map(part).collect();
        let limits: Vec<String> = self
            .limits
            .iter()
            .map(|limit| format!("{} at {}", limit.says, amounts::value(limit.value, self.unit)))
            .collect();
        let lines = if limits.is_empty() { String::new() } else { format!(". Lines: {}", limits.join("; ")) };
        format!("Over {}: {}{lines}.", amounts::elapsed(last - first), curves.join("; "))
    }

    /// Lines too far off to be drawn without pressing the curves flat.
    pub fn far(&self) -> Vec<String> {
        let (low, high) = self.reach();
        let is_far = |limit: &&&Limit| !(low..=high).contains(&limit.value);
        self.limits
            .iter()
            .filter(is_far)
            .map(|limit| format!("{} ({})", limit.says, amounts::value(limit.value, self.unit)))
            .collect()
    }

    /// The lowest and the highest value that is drawn: of the curves, and of lines not too far from them.
    fn reach(&self) -> (f64, f64) {
        let values = || {
            let ends = |range: Range| [range.low, range.mid, range.high];
            let points = self.curves.iter().flat_map(|curve| curve.points.iter());
            points.flat_map(move |point| ends(point.range)).filter(|value| value.is_finite())
        };
        let (low, high) = (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
        if high < low {
            return (0.0, 1.0);
        }
        let room = (high - low).max(1.0);
        let limits = || self.limits.iter().map(|limit| limit.value).filter(|value| value.is_finite());
        let near = |value: &f64| (low - room..=high + room).contains(value);
        (limits().filter(near).fold(low, f64::min), limits().filter(near).fold(high, f64::max))
    }
}

/// A label at its place.
#[derive(Clone, Debug, PartialEq)]
struct Label {
    at: f64,
    text: String,
}

/// A curve as it is drawn.
#[derive(Clone, Debug, PartialEq)]
struct Line {
    class: &'static str,
    mid: Vec<(f64, f64)>,
    band: Vec<(f64, f64)>,
    words: Vec<String>,
    words_y: f64,
}

/// A chart, laid out.
#[derive(Clone, Debug)]
pub struct Drawing {
    width: f64,
    right: f64,
    lines: Vec<Line>,
    limits: Vec<Label>,
    grid: Vec<Label>,
    axis: Vec<Label>,
    unit: &'static str,
    says: String,
}

const LEFT: f64 = 40.0;
const TOP: f64 = 24.0;
const TALL: f64 = 240.0;
const FOOT: f64 = 30.0;
const ROW: f64 = 15.0;

/// The ink of a curve: warm at the warm end, cool at the cool end.
fn ink(key: &str, index: usize) -> &'static str {
    const REST: [&str; 3] = ["line mid", "line plain", "line plain dotted"];
    match key {
        key if key.contains("warm") && key.contains("air") => "line warm dotted",
        key if key.contains("warm") => "line warm",
        key if key.contains("cool") && key.contains("air") => "line cool dotted",
        key if key.contains("cool") => "line cool",
        key if key.contains("room") => "line plain dotted",
        _ => REST.get(index % REST.len()).copied().unwrap_or("line plain"),
    }
}

/// A label in lines of at most so many letters; the third line and what follows is left to the table.
fn wrapped(text: &str, letters: usize) -> Vec<String> {
    const MOST: usize = 3;
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= letters => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.chars().take(letters).collect()),
        }
    }
    if MOST < lines.len() {
        lines.truncate(MOST);
        if let Some(last) = lines.last_mut() {
            last.push('…');
        }
    }
    lines
}

/// Puts labels apart that would lie on each other, each as near to its own height as there is room.
fn apart(lines: &mut [Line], top: f64, bottom: f64) {
    lines.sort_by(|a, b| a.words_y.total_cmp(&b.words_y));
    let tall = |line: &Line| line.words.len() as f64 * ROW;
    let mut free = top;
    for line in lines.iter_mut() {
        line.words_y = line.words_y.max(free);
        free = line.words_y + tall(line);
    }
    let mut end = bottom;
    for line in lines.iter_mut().rev() {
        line.words_y = line.words_y.min(end - tall(line));
        end = line.words_y;
    }
}

/// The round number (1, 2 or 5 times a power of ten) next above.
pub(crate) fn round_step(least: f64) -> f64 {
    let power = 10f64.powf(least.max(1e-3).log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|one| one * power).find(|step| least <= *step).unwrap_or(10.0 * power)
}

impl Drawing {
    /// Lays a chart out for a width in px.
    pub fn new(chart: &Chart<'_>, width: f64) -> Drawing {
        let is_wide = PHONE < width;
        let letters = if is_wide { 20 } else { 12 };
        let right = width - if is_wide { 150.0 } else { 98.0 };
        let (first, last) = (chart.span().0, chart.end());
        let (low, high) = chart.reach();
        let step = round_step((high - low) / if is_wide { 6.0 } else { 5.0 });
        let (bottom_value, top_value) = ((low / step).floor() * step, (high / step).ceil() * step);
        let tall = (top_value - bottom_value).max(step);
        let x = |minutes: f64| LEFT + (minutes - first) / (last - first).max(1e-9) * (right - LEFT);
        let y = |value: f64| TOP + (1.0 - (value - bottom_value) / tall).clamp(0.0, 1.0) * TALL;
        let line = |(index, curve): (usize, &&Curve)| {
            let at = |pick: fn(Range) -> f64| {
                let is_drawn = move |point: &&Point| point.minutes <= last && pick(point.range).is_finite();
                let points = curve.points.iter().filter(is_drawn);
                points.map(move |point| (x(point.minutes), y(pick(point.range)))).collect::<Vec<_>>()
            };
            let mid = at(|range| range.mid);
            let mut band = at(|range| range.high);
            band.extend(at(|range| range.low).into_iter().rev());
            let end = mid.last().map_or(TOP + TALL / 2.0, |point| point.1);
            let words = wrapped(&curve.says, letters);
            let words_y = end - words.len() as f64 * ROW / 2.0;
            Line { class: ink(curve.key, index), mid, band, words, words_y }
        };
        let mut lines: Vec<Line> = chart.curves.iter().enumerate().map(line).collect();
        apart(&mut lines, TOP - ROW, TOP + TALL + ROW);
        let scale = Scale::of(chart.unit, if step < 1.0 { 0.5 } else { 100.0 });
        let count = (tall / step).round() as i64;
        let grid = (0..=count).map(|index| bottom_value + index as f64 * step);
        let limits = chart.limits.iter().filter(|limit| (low..=high).contains(&limit.value));
        let ticks = round_times(first, last, if is_wide { 9 } else { 5 });
        let axis = |minutes: f64| {
            let text = if minutes == 0.0 { "0".to_owned() } else { amounts::elapsed(minutes) };
            Label { at: x(minutes), text }
        };
        Drawing {
            width,
            right,
            lines,
            limits: limits
                .map(|limit| Label {
                    at: y(limit.value),
                    text: format!("{}, {}", limit.says, amounts::value(limit.value, chart.unit)),
                })
                .collect(),
            grid: grid.map(|value| Label { at: y(value), text: scale.bare(value) }).collect(),
            axis: ticks.into_iter().map(axis).collect(),
            unit: match chart.unit {
                Unit::Minutes | Unit::Hours => "time",
                other => amounts::sign(other),
            },
            says: chart.sentence(),
        }
    }

    /// Draws it.
    pub fn svg(&self) -> String {
        let bottom = TOP + TALL;
        let mut svg = Svg::new("curve", self.width, bottom + FOOT, &self.says);
        svg.rect("ground", LEFT, TOP, self.right - LEFT, TALL, "");
        for line in &self.lines {
            svg.through(&line.class.replace("line", "band").replace(" dotted", ""), &line.band, true);
        }
        for mark in &self.grid {
            svg.line("grid", (LEFT, mark.at), (self.right, mark.at), "");
            svg.text("s", LEFT - 6.0, mark.at + 4.0, Anchor::End, &mark.text);
        }
        svg.text("s", LEFT - 6.0, TOP - 10.0, Anchor::End, self.unit);
        for mark in &self.axis {
            svg.line("mark", (mark.at, bottom), (mark.at, bottom + 5.0), "");
            svg.text("s", mark.at, bottom + 19.0, Anchor::Middle, &mark.text);
        }
        for limit in &self.limits {
            svg.line("limit", (LEFT, limit.at), (self.right, limit.at), "");
        }
        for line in &self.lines {
            svg.through(line.class, &line.mid, false);
        }
        self.draw_limit_words(&mut svg);
        for line in &self.lines {
            if let Some((x, y)) = line.mid.last() {
                svg.dot(&line.class.replace("line", "end").replace(" dotted", ""), *x, *y, 3.0, "");
            }
            for (index, words) in line.words.iter().enumerate() {
                svg.text("label", self.right + 8.0, line.words_y + 12.0 + index as f64 * ROW, Anchor::Start, words);
            }
        }
        svg.line("edge", (LEFT, bottom), (self.right, bottom), "");
        svg.finish()
    }

    /// What each line means stands on it, where it covers least of the curves and no other words.
    fn draw_limit_words(&self, svg: &mut Svg) {
        const LETTER: f64 = 6.1;
        let most = ((self.right - LEFT - 8.0) / LETTER) as usize;
        let mut taken: Vec<f64> = Vec::new();
        for limit in &self.limits {
            let text = if most < limit.text.chars().count() {
                format!("{}…", limit.text.chars().take(most.saturating_sub(1)).collect::<String>().trim_end())
            } else {
                limit.text.clone()
            };
            let wide = text.chars().count() as f64 * LETTER;
            let covered = |(x, y): (f64, f64)| {
                let points = self.lines.iter().flat_map(|line| line.mid.iter());
                let hidden =
                    points.filter(|(a, b)| (x..=x + wide).contains(a) && (y - 12.0..=y + 4.0).contains(b)).count();
                let is_out = !(TOP + 8.0..=TOP + TALL - 2.0).contains(&y);
                let is_crossed = |line: &Label| line.at != limit.at && (y - 12.0..=y + 4.0).contains(&line.at);
                let crossed = self.limits.iter().filter(|line| is_crossed(line)).count();
                // Words beyond another line would be read as that one's.
                let between = limit.at.min(y)..limit.at.max(y);
                let is_parted = self.limits.iter().any(|line| line.at != limit.at && between.contains(&line.at));
                let is_taken = taken.iter().any(|one| (one - y).abs() < ROW);
                hidden + 100 * crossed + if is_out || is_taken || is_parted { 10_000 } else { 0 }
            };
            let across = [LEFT + 6.0, self.right - 6.0 - wide, (LEFT + self.right - wide) / 2.0];
            let down = [limit.at - 5.0, limit.at + 14.0, limit.at - 5.0 - ROW, limit.at + 14.0 + ROW];
            let places = down.into_iter().flat_map(|y| across.map(|x| (x.max(LEFT + 4.0), y)));
            let Some((x, y)) = places.min_by_key(|place| covered(*place)) else { continue };
            taken.push(y);
            svg.text("halo", x, y, Anchor::Start, &text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn the_words_of_two_near_lines_stand_in_the_order_of_the_lines() {
        let mut answer = sample::power_cut();
        let source = answer.limits[0].source.clone();
        let limit = |says: &str, value| care::what_if::Limit { says: says.to_owned(), value, source: source.clone() };
        for near in [2.0, 3.0, 5.0] {
            answer.limits = vec![limit("lower", 24.0), limit("upper", 24.0 + near)];
            for width in [DESK, PHONE] {
                let svg = Drawing::new(&charts(&answer.curves, &answer.limits)[0], width).svg();
                let y_of = |word: &str| {
                    let before = &svg[..svg.find(&format!(">{word}, ")).unwrap()];
                    let y = before.rsplit(" y=\"").next().unwrap();
                    y.split('"').next().unwrap().parse::<f64>().unwrap()
                };
                assert!(y_of("upper") < y_of("lower"), "{near} K apart, {width} px");
            }
        }
    }

    #[test]
    fn time_runs_from_left_to_right_and_warmer_is_higher() {
        let answer = sample::power_cut();
        let charts = charts(&answer.curves, &answer.limits);
        assert_eq!(charts.len(), 2, "temperature and humidity have a drawing each");
        assert!(charts[1].limits.is_empty());
        for width in [DESK, PHONE] {
            let drawing = Drawing::new(&charts[0], width);
            for line in &drawing.lines {
                assert!(line.mid.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 <= pair[1].1), "{line:?}");
                assert!(
                    line.mid.iter().all(|(x, y)| (LEFT..=drawing.right).contains(x) && (TOP..=TOP + TALL).contains(y))
                );
            }
            let mut ends: Vec<(f64, usize)> =
                drawing.lines.iter().map(|line| (line.words_y, line.words.len())).collect();
            ends.sort_by(|a, b| a.0.total_cmp(&b.0));
            assert!(
                ends.windows(2).all(|pair| pair[0].0 + pair[0].1 as f64 * ROW <= pair[1].0 + 0.01),
                "labels keep apart"
            );
            assert!(drawing.axis.len() <= 9 && 3 <= drawing.axis.len());
        }
    }

    #[test]
    fn a_line_far_from_every_curve_is_told_and_not_drawn() {
        let answer = sample::power_cut();
        let charts = charts(&answer.curves, &answer.limits);
        assert_eq!(charts[0].far(), ["skin burns (55\u{a0}°C)"]);
        let drawing = Drawing::new(&charts[0], DESK);
        assert_eq!(drawing.limits.len(), 1);
        assert!(!drawing.svg().contains("skin burns (55"));
    }

    #[test]
    fn the_table_has_a_row_for_each_of_a_few_round_times() {
        let answer = sample::power_cut();
        let charts = charts(&answer.curves, &answer.limits);
        let (head, rows) = charts[0].table();
        assert_eq!(head, ["After", "Warm surface", "Cool air"]);
        let times: Vec<String> = rows.iter().map(|row| row[0].replace(wording::STAY, " ")).collect();
        assert_eq!(times, ["at the start", "1 h", "2 h", "3 h", "4 h", "5 h", "6 h", "7 h", "8 h"]);
        assert!(rows.iter().all(|row| row.len() == head.len()));
    }

    #[test]
    fn what_no_longer_moves_is_not_drawn_for_days() {
        let mut answer = sample::power_cut();
        for curve in &mut answer.curves {
            let settled = curve.points.last().map(|point| point.range).unwrap();
            curve.points.push(Point { minutes: 6_000.0, range: settled });
        }
        let charts = charts(&answer.curves, &answer.limits);
        let end = charts[0].end();
        assert!((300.0..1_000.0).contains(&end), "{end}");
        let still = [Curve {
            key: "x",
            says: "x".into(),
            unit: Unit::Celsius,
            points: vec![
                Point { minutes: 0.0, range: Range::exactly(20.0) },
                Point { minutes: 600.0, range: Range::exactly(20.0) },
            ],
        }];
        assert_eq!(super::charts(&still, &[])[0].end(), 600.0);
    }

    #[test]
    fn odd_curves_neither_hang_nor_divide_by_nothing() {
        let curve = |points: Vec<Point>| Curve { key: "x", says: "x".into(), unit: Unit::Celsius, points };
        let at = |minutes, value| Point { minutes, range: Range::exactly(value) };
        for points in
            [vec![at(0.0, 20.0)], vec![at(0.0, 20.0), at(1e7, 20.0)], vec![at(0.0, f64::NAN), at(10.0, f64::INFINITY)]]
        {
            let curves = [curve(points)];
            let charts = charts(&curves, &[]);
            let text = Drawing::new(&charts[0], PHONE).svg();
            assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
            assert!(charts[0].table().1.len() <= 10);
        }
    }
}
