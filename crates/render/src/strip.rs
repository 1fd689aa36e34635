//! The life strip: one animal's life on one long line of time.
//!
//! Weight is a line with its dots; meals hang from the top edge, as long as their share of the body's mass; refusals
//! are open ticks; sheds are narrow bands from dull to off; the future lies to the right of today in lighter ink, with
//! its uncertainty. [`Strip::new`] lays it out in numbers, [`Strip::svg`] draws it.
//!
//! It is drawn one to one, never scaled, so that its text keeps its size: a wide drawing for a desk, another that
//! scrolls for a phone.

use care::answer::{Forecasts, ValueRange};
use jiff::ToSpan;
use records::Timeline;
use records::facts::{Meal, Outcome};
use units::Moment;

use crate::curve::round_step;
use crate::svg::{Anchor, Svg};
use crate::wording::{self, Clock};

/// How much of a life is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Span {
    /// The last six months.
    HalfYear,
    /// The last two years.
    #[default]
    TwoYears,
    /// Everything.
    Whole,
}

impl Span {
    /// All of them.
    pub const ALL: [Span; 3] = [Span::HalfYear, Span::TwoYears, Span::Whole];

    /// The word for it in an address.
    pub fn key(self) -> &'static str {
        match self {
            Span::HalfYear => "half-year",
            Span::TwoYears => "two-years",
            Span::Whole => "whole",
        }
    }

    /// The inverse of [`Span::key`].
    pub fn from_key(key: &str) -> Option<Span> {
        Span::ALL.into_iter().find(|span| span.key() == key)
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Span::HalfYear => "six months",
            Span::TwoYears => "two years",
            Span::Whole => "whole life",
        }
    }

    fn days(self) -> f64 {
        match self {
            Span::HalfYear => 183.0,
            Span::TwoYears => 731.0,
            Span::Whole => f64::INFINITY,
        }
    }
}

/// The size of a drawing, in px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

/// For a desk.
pub const DESK: Size = Size { width: 960.0, height: 300.0 };
/// For a phone: it scrolls in its own box, the latest at the start.
pub const PHONE: Size = Size { width: 760.0, height: 270.0 };

/// How a meal is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tick {
    /// Eaten: a full tick.
    Full,
    /// Offered and not eaten: an open one.
    Open,
    /// Eaten and brought up again: a full one, struck through.
    Struck,
}

/// A meal on the strip.
#[derive(Clone, Debug, PartialEq)]
pub struct MealMark {
    /// Its place.
    pub x: f64,
    /// How far it hangs down.
    pub length: f64,
    /// How it is drawn.
    pub tick: Tick,
    /// What it says.
    pub says: String,
}

/// A span of time on the strip.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Its left edge.
    pub x: f64,
    /// Its width.
    pub width: f64,
    /// Did it end badly?
    pub rough: bool,
    /// What it says.
    pub says: String,
}

/// A weighing on the strip.
#[derive(Clone, Debug, PartialEq)]
pub struct Dot {
    /// Its place.
    pub x: f64,
    /// Its height.
    pub y: f64,
    /// Guessed, not weighed?
    pub estimated: bool,
    /// Its mass in words.
    pub mass: String,
    /// What it says.
    pub says: String,
}

/// A label at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Its place along the line it belongs to.
    pub at: f64,
    /// The words.
    pub text: String,
}

/// The strip, laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    size: Size,
    says: String,
    /// Where today is.
    pub today: f64,
    /// Meals, oldest first.
    pub meals: Vec<MealMark>,
    /// Sheds, oldest first.
    pub sheds: Vec<Band>,
    /// Weighings, oldest first.
    pub weights: Vec<Dot>,
    /// Signs seen, oldest first.
    pub signs: Vec<Label>,
    /// What each weighing was likely to show by those before it: place, and the heights of the low and the high end.
    pub past: Vec<(f64, f64, f64)>,
    /// What is likely: place, and the heights of the low, middle and high end.
    pub future: Vec<(f64, f64, f64, f64)>,
    /// The last range of mass in words.
    pub future_mass: Option<String>,
    /// When the next meal is likely taken.
    pub next_meal: Option<Band>,
    /// When the next shed is likely.
    pub next_shed: Option<Band>,
    /// Lines of equal mass.
    pub grid: Vec<Label>,
    /// Marks of time at the foot.
    pub axis: Vec<Label>,
}

const TOP: f64 = 26.0;
const FOOT: f64 = 26.0;
const LEFT: f64 = 10.0;
const RIGHT: f64 = 58.0;
/// Meals hang above this much of the drawing; the weight keeps below it.
const MEALS: f64 = 66.0;
/// A meal of 10 % of body mass hangs this far down.
const TENTH: f64 = 28.0;
const LONGEST: f64 = 60.0;
const SHORTEST: f64 = 7.0;
/// A meal of unknown share.
const UNKNOWN: f64 = 16.0;

/// Where moments and masses lie.
struct Scale {
    from: Moment,
    days: f64,
    left: f64,
    width: f64,
    low_g: f64,
    high_g: f64,
    top: f64,
    height: f64,
}

impl Scale {
    fn x(&self, moment: Moment) -> f64 {
        let share = moment.days_since(self.from) / self.days;
        self.left + self.width * share.clamp(0.0, 1.0)
    }

    fn holds(&self, moment: Moment) -> bool {
        let days = moment.days_since(self.from);
        (0.0..=self.days).contains(&days)
    }

    fn y(&self, grams: f64) -> f64 {
        self.top + self.height * (1.0 - (grams - self.low_g) / (self.high_g - self.low_g))
    }
}

impl Strip {
    /// Lays the strip out; `None` when there is nothing to show.
    pub fn new(
        name: &str,
        timeline: &Timeline,
        (forecasts, past): (&Forecasts, &[ValueRange]),
        clock: &Clock,
        span: Span,
        size: Size,
    ) -> Option<Strip> {
        let now = clock.now();
        let first = first_record(timeline).filter(|first| *first < now)?;
        let shown_d = now.days_since(first).min(span.days()).max(30.0);
        // What is likely gets a fifth of the strip, but never reaches further than the forecasts do.
        let ahead = (shown_d * 0.25).clamp(21.0, 90.0);
        let from = now.plus_days(-shown_d * 1.02);
        let until = now.plus_days(ahead);
        let window = |at: Moment| from <= at && at <= until;

        let weighings: Vec<_> = timeline.weighings.iter().filter(|one| window(one.at.middle())).collect();
        let likely: Vec<_> = forecasts.mass.iter().filter(|one| now <= one.at && window(one.at)).collect();
        let masses = weighings.iter().map(|one| one.mass_g).chain(likely.iter().flat_map(|one| [one.low, one.high]));
        let (low, high) = masses.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), g| (low.min(g), high.max(g)));
        let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
        // A few grams up and down are no mountain: the scale spans at least a quarter of the body.
        let least = high * 0.25;
        let room = ((least - (high - low)) / 2.0).max((high - low) * 0.08);
        let scale = Scale {
            from,
            days: until.days_since(from),
            left: LEFT,
            width: size.width - LEFT - RIGHT,
            low_g: (low - room).max(0.0),
            high_g: high + room,
            top: TOP + MEALS,
            height: size.height - TOP - MEALS - FOOT - 4.0,
        };

        let weights: Vec<Dot> = weighings
            .iter()
            .map(|one| Dot {
                x: scale.x(one.at.middle()),
                y: scale.y(one.mass_g),
                estimated: one.estimated,
                mass: wording::mass(one.mass_g),
                says: format!(
                    "{}: {}{}{}",
                    clock.in_table(one.at),
                    wording::mass(one.mass_g),
                    if one.estimated { ", estimated" } else { "" },
                    was_likely(past, one.at.middle()).map_or(String::new(), |words| format!("; {words}"))
                ),
            })
            .collect();
        let mut future: Vec<(f64, f64, f64, f64)> =
            likely.iter().map(|one| (scale.x(one.at), scale.y(one.low), scale.y(one.mid), scale.y(one.high))).collect();
        if let (Some(first), Some(last)) = (future.first(), weights.last())
            && first.0 - last.x > 0.5
        {
            future.insert(0, (last.x, last.y, last.y, last.y));
        }
        // A wide band would flatten the weights: what of it lies beyond them is cut off.
        let held = |grams: f64| scale.y(grams.clamp(scale.low_g, scale.high_g));
        let past = past.iter().filter(|one| window(one.at));
        let past = past.map(|one| (scale.x(one.at), held(one.low), held(one.high))).collect();
        let mut strip = Strip {
            size,
            past,
            says: String::new(),
            today: scale.x(now),
            meals: timeline
                .meals
                .iter()
                .filter(|one| window(one.at.middle()))
                .map(|one| meal(&one.it, timeline, &scale, clock))
                .collect(),
            sheds: timeline.sheds.iter().filter_map(|one| shed(&one.it, now, &scale, clock)).collect(),
            weights,
            signs: timeline
                .signs
                .iter()
                .filter(|one| window(one.at.middle()))
                .map(|one| Label {
                    at: scale.x(one.at.middle()),
                    text: format!("{}: {}", clock.in_table(one.at), records::choice::Choice::words(one.sign)),
                })
                .collect(),
            future_mass: likely.last().map(|one| wording::masses(one.low, one.high)),
            future,
            next_meal: forecasts
                .next_meal
                .as_ref()
                .map(|range| likely_band("next meal likely taken", range, &scale, clock)),
            next_shed: forecasts.next_shed.as_ref().map(|range| likely_band("next shed likely", range, &scale, clock)),
            grid: if weighings.is_empty() { Vec::new() } else { grid(&scale) },
            axis: axis(&scale, clock, until),
        };
        strip.says = strip.sentence(name, clock, from);
        Some(strip)
    }

    /// One sentence that says what is drawn.
    fn sentence(&self, name: &str, clock: &Clock, from: Moment) -> String {
        let month = clock.zone().date(from);
        let mut parts = vec![format!("Life strip of {name} since {} {}", wording::month(month), month.year())];
        match (self.weights.first(), self.weights.last()) {
            (Some(first), Some(last)) if 1 < self.weights.len() => {
                parts.push(format!("weight from {} to {}", first.mass, last.mass))
            }
            (Some(only), _) => parts.push(format!("weight {}", only.mass)),
            _ => {}
        }
        let taken = self.meals.iter().filter(|meal| meal.tick == Tick::Full).count();
        let open = self.meals.iter().filter(|meal| meal.tick == Tick::Open).count();
        parts.push(wording::counted(taken, "meal taken", "meals taken"));
        if 0 < open {
            parts.push(wording::counted(open, "not taken", "not taken"));
        }
        parts.push(wording::counted(self.sheds.len(), "shed", "sheds"));
        parts.extend(self.next_meal.iter().map(|band| band.says.clone()));
        parts.extend(self.next_shed.iter().map(|band| band.says.clone()));
        format!("{}.", parts.join("; "))
    }

    /// What is drawn, in one sentence.
    pub fn says(&self) -> &str {
        &self.says
    }

    /// Draws it.
    pub fn svg(&self) -> String {
        let Size { width, height } = self.size;
        let (right, bottom) = (width - RIGHT, height - FOOT);
        let mut svg = Svg::new("strip", width, height, &self.says);
        svg.rect("ground", LEFT, TOP, right - LEFT, bottom - TOP, "");
        svg.rect("ahead", self.today, TOP, right - self.today, bottom - TOP, "");
        for line in &self.grid {
            svg.line("grid", (LEFT, line.at), (right, line.at), "");
            svg.text("s", right + 6.0, line.at + 4.0, Anchor::Start, &line.text);
        }
        for shed in &self.sheds {
            svg.rect("shed", shed.x, TOP, shed.width, bottom - TOP, &shed.says);
            if shed.rough {
                svg.rect("rough", shed.x, bottom - 5.0, shed.width, 5.0, &shed.says);
            }
        }
        if let Some(band) = &self.next_shed {
            svg.rect("shed likely", band.x, TOP, band.width, bottom - TOP, &band.says);
            svg.text("s", band.x + band.width / 2.0, bottom - 6.0, Anchor::Middle, "shed?");
        }
        for mark in &self.axis {
            svg.line("mark", (mark.at, bottom), (mark.at, bottom + 5.0), "");
            svg.text("s", mark.at + 3.0, height - 6.0, Anchor::Start, &mark.text);
        }
        self.draw_meals(&mut svg);
        self.draw_weight(&mut svg);
        for sign in &self.signs {
            svg.line("sign", (sign.at, bottom - 9.0), (sign.at, bottom + 1.0), &sign.text);
        }
        svg.line("edge", (LEFT, TOP), (right, TOP), "");
        svg.line("edge", (LEFT, bottom), (right, bottom), "");
        svg.line("today", (self.today, TOP - 6.0), (self.today, bottom), "");
        svg.text("s", self.today, TOP - 10.0, Anchor::Middle, "today");
        svg.finish()
    }

    fn draw_meals(&self, svg: &mut Svg) {
        let width = self.tick_width();
        for meal in &self.meals {
            match meal.tick {
                Tick::Full => svg.rect("meal", meal.x - width / 2.0, TOP, width, meal.length, &meal.says),
                Tick::Open => svg.rect("meal open", meal.x - width / 2.0, TOP, width, meal.length, &meal.says),
                Tick::Struck => {
                    svg.rect("meal", meal.x - width / 2.0, TOP, width, meal.length, &meal.says);
                    svg.line(
                        "strike",
                        (meal.x - 5.0, TOP + meal.length + 6.0),
                        (meal.x + 5.0, TOP + meal.length - 4.0),
                        &meal.says,
                    );
                }
            }
        }
        if let Some(band) = &self.next_meal {
            svg.rect("meal likely", band.x, TOP, band.width.max(width), TENTH, &band.says);
            let middle = (band.x + band.width / 2.0).max(self.today + 22.0);
            svg.text("s", middle, TOP + TENTH + 13.0, Anchor::Middle, "meal?");
        }
    }

    /// Ticks keep apart where meals are many.
    fn tick_width(&self) -> f64 {
        let gaps = self.meals.windows(2).filter_map(|pair| match pair {
            [one, next] => Some(next.x - one.x).filter(|gap| 0.0 < *gap),
            _ => None,
        });
        let mut gaps: Vec<f64> = gaps.collect();
        gaps.sort_by(f64::total_cmp);
        gaps.get(gaps.len() / 4).map_or(4.0, |gap| (gap * 0.6).clamp(1.5, 4.0))
    }

    fn draw_weight(&self, svg: &mut Svg) {
        let high = self.past.iter().map(|one| (one.0, one.2));
        let low = self.past.iter().rev().map(|one| (one.0, one.1));
        svg.through("band past", &high.chain(low).collect::<Vec<_>>(), true);
        let high = self.future.iter().map(|one| (one.0, one.3));
        let low = self.future.iter().rev().map(|one| (one.0, one.1));
        let outline: Vec<(f64, f64)> = high.chain(low).collect();
        svg.through("band", &outline, true);
        let line: Vec<(f64, f64)> = self.weights.iter().map(|dot| (dot.x, dot.y)).collect();
        svg.through("weight", &line, false);
        let middle: Vec<(f64, f64)> = self.future.iter().map(|one| (one.0, one.2)).collect();
        svg.through("weight likely", &middle, false);
        let radius = if self.weights.len() < 40 { 3.0 } else { 2.2 };
        for dot in &self.weights {
            svg.dot(if dot.estimated { "dot open" } else { "dot" }, dot.x, dot.y, radius, &dot.says);
        }
        if let Some(last) = self.weights.last() {
            // On the side of the dot where the line does not come from.
            let before = self.weights.iter().rev().nth(1).map_or(last.y, |dot| dot.y);
            let y = if last.y < before { last.y - 9.0 } else { last.y + 18.0 };
            svg.text("n", (last.x - 4.0).max(LEFT + 40.0), y, Anchor::End, &last.mass);
        }
        if let (Some(end), Some(mass)) = (self.future.last(), &self.future_mass) {
            svg.text("s", end.0 - 2.0, end.3 - 6.0, Anchor::End, mass);
        }
    }
}

/// What a weighing was likely to show by those before it: «112 to 125 g was likely».
pub(crate) fn was_likely(past: &[ValueRange], at: Moment) -> Option<String> {
    let one = past.iter().find(|one| one.at == at)?;
    Some(format!("{} was likely", wording::masses(one.low, one.high)))
}

fn first_record(timeline: &Timeline) -> Option<Moment> {
    let firsts = [
        timeline.weighings.first().map(|one| one.at.from),
        timeline.meals.first().map(|one| one.at.from),
        timeline.sheds.first().and_then(|one| one.steps().next()).map(|when| when.from),
    ];
    firsts.into_iter().flatten().min()
}

/// The body mass nearest before a moment, else the nearest after it.
fn mass_at(timeline: &Timeline, at: Moment) -> Option<f64> {
    let before = timeline.weighings.iter().rev().find(|one| one.at.from <= at);
    before.or(timeline.weighings.first()).map(|one| one.mass_g)
}

fn meal(meal: &Meal, timeline: &Timeline, scale: &Scale, clock: &Clock) -> MealMark {
    let share = meal.total_g().zip(mass_at(timeline, meal.at.middle())).map(|(prey, body)| prey / body * 100.0);
    let length = share.map_or(UNKNOWN, |share| (share / 10.0 * TENTH).clamp(SHORTEST, LONGEST));
    let tick = match meal.outcome {
        Outcome::Taken => Tick::Full,
        Outcome::Regurgitated => Tick::Struck,
        Outcome::Refused | Outcome::Left | Outcome::Unseen => Tick::Open,
    };
    let mut says = format!("{}: {}", clock.in_table(meal.at), wording::fact(&records::Fact::Meal(meal.clone()), clock));
    if let Some(share) = share {
        says.push_str(&format!(", {} of body mass", wording::percent(share)));
    }
    MealMark { x: scale.x(meal.at.middle()), length, tick, says }
}

fn shed(shed: &records::facts::Shed, now: Moment, scale: &Scale, clock: &Clock) -> Option<Band> {
    const NARROWEST: f64 = 3.0;
    let first = shed.steps().next()?.middle();
    let end = shed.shed_at.map_or(now, units::When::middle);
    if !scale.holds(first) && !scale.holds(end) {
        return None;
    }
    let (x, until) = (scale.x(first), scale.x(end));
    let width = (until - x).max(NARROWEST);
    let rough = 1 < shed.pieces.unwrap_or(1) || !shed.retained.is_empty();
    Some(Band { x, width, rough, says: format!("Shed: {}", wording::fact(&records::Fact::Shed(shed.clone()), clock)) })
}

fn likely_band(what: &str, range: &care::answer::DateRange, scale: &Scale, clock: &Clock) -> Band {
    let (x, until) = (scale.x(range.low), scale.x(range.high));
    Band { x, width: (until - x).max(4.0), rough: false, says: format!("{what} {}", clock.days(range.low, range.high)) }
}

/// A few lines of equal mass at round numbers.
fn grid(scale: &Scale) -> Vec<Label> {
    let step = round_step((scale.high_g - scale.low_g) / 5.0);
    let first = (scale.low_g / step).ceil();
    (0..8)
        .map(|index| (first + f64::from(index)) * step)
        .take_while(|grams| *grams <= scale.high_g)
        .map(|grams| Label { at: scale.y(grams), text: wording::mass(grams) })
        .collect()
}

/// The first of months, as many as there is room for.
fn axis(scale: &Scale, clock: &Clock, until: Moment) -> Vec<Label> {
    const ROOM: f64 = 46.0;
    let px_a_month = scale.width / scale.days * 30.44;
    let step =
        [1, 2, 3, 6, 12, 24, 60, 120].into_iter().find(|months| ROOM <= px_a_month * f64::from(*months)).unwrap_or(120);
    let mut month = clock.zone().date(scale.from).first_of_month();
    let mut labels = Vec::new();
    let mut year_said = false;
    while clock.zone().start_of(month) <= until && labels.len() < 60 {
        month = month.saturating_add(1.month());
        let start = clock.zone().start_of(month);
        let number = i32::from(month.year()) * 12 + i32::from(month.month()) - 1;
        if number % step != 0 || until < start {
            continue;
        }
        let text = match (month.month(), year_said) {
            (1, _) => month.year().to_string(),
            (_, false) if step < 12 => format!("{} {}", wording::month_short(month), month.year()),
            _ => wording::month_short(month).to_owned(),
        };
        let wide = text.len() > 4;
        let at = scale.x(start);
        if scale.left + scale.width - at < if wide { 56.0 } else { 24.0 } {
            continue;
        }
        year_said = true;
        labels.push(Label { at, text });
    }
    // A first label with its year is long; the next one gives way where they would touch.
    if let [first, second, ..] = labels.as_slice()
        && first.text.len() > 4
        && second.at - first.at < 64.0
    {
        labels.remove(1);
    }
    labels
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Zone;

    const LIFE: &str = r#"
at = "2026-03-14T19:30"
zone = "Europe/Lisbon"
[animal]
species = "corn snake"
hatched = "2024-07"
sex = "female"
[[weighing]]
at = "2025-09-14"
mass_g = 100
[[weighing]]
at = "2025-12-13"
mass_g = 150
[[weighing]]
at = "2026-03-14T09:00"
mass_g = 200
[[meal]]
at = "2025-12-14"
mass_g = 15
prey = "mouse-hopper"
outcome = "taken"
[[meal]]
at = "2026-01-14"
mass_g = 15
outcome = "refused"
[[meal]]
at = "2026-02-14"
outcome = "regurgitated"
[[shed]]
dull_at = "2026-02-01"
shed_at = "2026-02-11"
pieces = 4
"#;

    fn strip(text: &str, span: Span) -> Option<Strip> {
        let case = records::case_file::read("life.toml", text.as_bytes()).unwrap();
        let now = case.at.unwrap();
        let clock = Clock::new(&case.zone, now);
        Strip::new("Ash", &case.timeline, (&Forecasts::default(), &[]), &clock, span, DESK)
    }

    #[test]
    fn time_runs_evenly_from_left_to_right_and_heavier_is_higher() {
        let strip = strip(LIFE, Span::Whole).unwrap();
        let [a, b, c] = strip.weights.as_slice() else { panic!("three weighings") };
        assert!(a.x < b.x && b.x < c.x && c.x <= strip.today);
        assert!(a.y > b.y && b.y > c.y);
        // ninety days lie between first and second, ninety-one between second and third
        assert!(((b.x - a.x) - (c.x - b.x)).abs() < 6.0);
        assert!(((a.y - b.y) - (b.y - c.y)).abs() < 0.01, "equal steps of mass are equal steps of height");
        assert!(strip.today < DESK.width - RIGHT, "there is room for what is to come");
    }

    #[test]
    fn what_a_weighing_was_likely_to_show_stands_round_its_dot() {
        let case = records::case_file::read("life.toml", LIFE.as_bytes()).unwrap();
        let clock = Clock::new(&case.zone, case.at.unwrap());
        let at = case.timeline.weighings[2].at.middle();
        let past = [ValueRange { at, low: 190.0, mid: 197.0, high: 204.0 }];
        let strip =
            Strip::new("Ash", &case.timeline, (&Forecasts::default(), &past), &clock, Span::Whole, DESK).unwrap();
        let ([(x, low, high)], dot) = (strip.past.as_slice(), &strip.weights[2]) else { panic!("one band") };
        assert!(*x == dot.x && *high < dot.y && dot.y < *low, "{x} {low} {high} {}", dot.y);
        assert!(dot.says.ends_with("190–204\u{a0}g was likely"), "{}", dot.says);
    }

    #[test]
    fn a_meal_hangs_as_long_as_its_share_of_the_body() {
        let strip = strip(LIFE, Span::Whole).unwrap();
        let [taken, refused, up] = strip.meals.as_slice() else { panic!("three meals") };
        assert_eq!((taken.tick, refused.tick, up.tick), (Tick::Full, Tick::Open, Tick::Struck));
        assert!((taken.length - TENTH).abs() < 0.01, "15 g of 150 g is a tenth: {}", taken.length);
        assert_eq!(up.length, UNKNOWN, "nothing is known of its mass");
        assert!(taken.says.ends_with("10\u{a0}% of body mass"), "{}", taken.says);
    }

    #[test]
    fn a_shed_is_a_band_from_dull_to_off() {
        let strip = strip(LIFE, Span::Whole).unwrap();
        let [band] = strip.sheds.as_slice() else { panic!("one shed") };
        let px_a_day = (strip.weights[2].x - strip.weights[0].x) / 180.9;
        assert!((band.width / px_a_day - 10.0).abs() < 0.5, "ten days: {}", band.width / px_a_day);
        assert!(band.rough);
    }

    #[test]
    fn what_lies_before_the_span_is_left_out() {
        let strip = strip(LIFE, Span::HalfYear).unwrap();
        assert_eq!(strip.weights.len(), 3, "six months and two days are shown whole");
        let half = strip.clone();
        let longer = LIFE.replace("2025-09-14", "2024-09-14");
        let cut = super::tests::strip(&longer, Span::HalfYear).unwrap();
        assert_eq!(cut.weights.len(), 2);
        assert!(half.axis.len() >= 4);
    }

    #[test]
    fn an_animal_without_records_has_no_strip() {
        assert!(strip("at = \"2026-03-14\"\n[animal]\nspecies = \"corn snake\"\n", Span::Whole).is_none());
    }

    #[test]
    fn twenty_years_stay_readable() {
        let mut text = String::from("at = \"2026-03-14\"\n[animal]\nspecies = \"corn snake\"\n");
        for year in 2006..2026 {
            for month in 1..=12 {
                text.push_str(&format!("[[weighing]]\nat = \"{year}-{month:02}-03\"\nmass_g = {}\n", 400 + month));
                text.push_str(&format!("[[meal]]\nat = \"{year}-{month:02}-04\"\nmass_g = 25\noutcome = \"taken\"\n"));
            }
        }
        let strip = strip(&text, Span::Whole).unwrap();
        assert_eq!((strip.weights.len(), strip.meals.len()), (240, 240));
        let apart = strip.axis.windows(2).map(|pair| pair[1].at - pair[0].at).fold(f64::INFINITY, f64::min);
        assert!(40.0 <= apart, "labels keep apart: {apart}");
        assert!(strip.grid.len() <= 6);
        assert!(strip.svg().contains("class=\"today\""));
    }

    #[test]
    fn masses_stand_at_round_numbers() {
        for (least, step) in [(3.0, 5.0), (0.9, 1.0), (120.0, 200.0), (51.0, 100.0)] {
            assert_eq!(round_step(least), step);
        }
        let _ = Zone::none();
    }
}
