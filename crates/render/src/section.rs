//! The section: an enclosure from the side, the warm end at the left, with what was measured where it was measured
//! and what is wanted beneath.
//!
//! [`Section::new`] lays it out in numbers, [`Section::svg`] draws it one to one: a wide drawing for a desk, a narrow
//! one for a phone.

use records::facts::{Enclosure, Heater, HeaterKind, Lid, Spot};

use crate::amounts;
use crate::svg::{Anchor, Svg};
use crate::wording;

/// What the model says of a spot, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Modelled {
    /// The middle, as «32.4 °C».
    pub middle: String,
    /// The range, as «31–34».
    pub range: Option<String>,
}

impl Modelled {
    /// A range in its unit.
    pub fn of(range: care::what_if::Range, unit: care::what_if::Unit) -> Modelled {
        Modelled { middle: amounts::middle(range, unit), range: amounts::spread(range, unit) }
    }

    /// The middle with its range.
    pub(crate) fn full(&self) -> String {
        let range = self.range.as_ref().map_or(String::new(), |range| format!(" ({range})"));
        format!("{}{range}", self.middle)
    }

    /// Beside what was measured: the range says more than the middle.
    fn beside(&self) -> String {
        format!("model {}", self.range.as_deref().unwrap_or(&self.middle))
    }

    /// In the place of what was measured: what stands under the large middle.
    fn alone(&self) -> String {
        self.range.as_ref().map_or("model".to_owned(), |range| format!("model, {range}"))
    }
}

/// What is known of a spot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AtSpot {
    /// The latest temperature, as «32.1».
    pub temperature: Option<String>,
    /// What the model says, with its range.
    pub modelled_temperature: Option<Modelled>,
    /// What is wanted, as «31–33».
    pub wanted_temperature: Option<String>,
    /// The latest humidity, as «61 %».
    pub humidity: Option<String>,
    /// What the model says of it.
    pub modelled_humidity: Option<Modelled>,
    /// What is wanted, as «55–75 %».
    pub wanted_humidity: Option<String>,
    /// How old the older of the two is: «today», «3 days ago».
    pub age: Option<String>,
}

/// One animal as a length beneath the section.
#[derive(Clone, Debug, PartialEq)]
pub struct Beneath {
    /// What it is called.
    pub name: String,
    /// Its total length in cm, as last measured.
    pub length_cm: f64,
}

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Drawn<'a> {
    /// The enclosure.
    pub enclosure: &'a Enclosure,
    /// Its heaters.
    pub heaters: &'a [Heater],
    /// The spots, each once.
    pub spots: Vec<(Spot, AtSpot)>,
    /// The animals whose length is known.
    pub animals: Vec<Beneath>,
}

/// For a desk.
pub const DESK: f64 = 760.0;
/// For a phone.
pub const PHONE: f64 = 356.0;

/// A spot in the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Which.
    pub spot: Spot,
    /// Where the thermometer is: across and down.
    pub point: (f64, f64),
    /// Where its numbers stand: their middle and their first line.
    pub words: (f64, f64),
    /// The lines: what is large and what is small.
    pub lines: Vec<(bool, String)>,
}

/// The section, laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    width: f64,
    /// The box: left, top, width, height.
    pub frame: (f64, f64, f64, f64),
    /// The spots.
    pub spots: Vec<Placed>,
    /// Share of the enclosure's length that each animal takes up, its length in words.
    pub animals: Vec<(String, f64, bool)>,
    lid: Option<Lid>,
    hides: u32,
    humid_hide: bool,
    heaters: Vec<HeaterKind>,
    length: Option<String>,
    says: String,
}

const ABOVE: f64 = 34.0;
const SIDE: f64 = 6.0;
const FLOOR: f64 = 14.0;
/// How far a line stands below the one above it.
const SMALL: f64 = 16.0;
const LARGE: f64 = 23.0;

/// How far down each line stands from the first.
fn steps(lines: &[(bool, String)]) -> Vec<f64> {
    let mut down = 0.0;
    let step = |(index, (large, _)): (usize, &(bool, String))| {
        if 0 < index {
            down += if *large { LARGE } else { SMALL };
        }
        down
    };
    lines.iter().enumerate().map(step).collect()
}

/// Where a thermometer at a spot lies in the box, as shares across and down; `None` for what is not inside.
fn place(spot: Spot) -> Option<(f64, f64)> {
    Some(match spot {
        Spot::WarmAir => (0.15, 0.10),
        Spot::CoolAir => (0.85, 0.10),
        Spot::Hide => (0.12, 0.90),
        Spot::WarmSurface => (0.37, 0.93),
        Spot::HumidHide => (0.62, 0.90),
        Spot::CoolSurface => (0.87, 0.93),
        Spot::Water | Spot::Room | Spot::Outdoors | Spot::ControlProbe => return None,
    })
}

/// The measured number large, what the model says and what is wanted beneath; the model's number large where nothing
/// was measured.
fn of_one(measured: Option<String>, modelled: Option<&Modelled>, wanted: Option<&String>) -> Vec<(bool, String)> {
    let mut lines = match (measured, modelled) {
        (Some(value), modelled) => {
            let mut lines = vec![(true, value)];
            lines.extend(modelled.map(|modelled| (false, modelled.beside())));
            lines
        }
        (None, Some(modelled)) => vec![(true, modelled.middle.clone()), (false, modelled.alone())],
        (None, None) if wanted.is_some() => vec![(true, "not read".to_owned())],
        (None, None) => Vec::new(),
    };
    lines.extend(wanted.map(|wanted| (false, format!("wanted {wanted}"))));
    lines
}

fn lines(spot: Spot, at: &AtSpot) -> Vec<(bool, String)> {
    let mut lines = vec![(false, wording::spot(spot).to_owned())];
    let degrees = at.temperature.as_ref().map(|value| format!("{value}\u{a0}°C"));
    lines.extend(of_one(degrees, at.modelled_temperature.as_ref(), at.wanted_temperature.as_ref()));
    lines.extend(of_one(at.humidity.clone(), at.modelled_humidity.as_ref(), at.wanted_humidity.as_ref()));
    lines.extend(at.age.iter().map(|age| (false, age.clone())));
    lines
}

/// Half the width of the longest line, with a little room: what stands near a wall is moved off it.
fn half_width(lines: &[(bool, String)]) -> f64 {
    const LETTER: f64 = 6.7;
    const LARGE_LETTER: f64 = 10.5;
    let wide =
        |(large, text): &(bool, String)| text.chars().count() as f64 * if *large { LARGE_LETTER } else { LETTER };
    lines.iter().map(wide).fold(0.0, f64::max) / 2.0 + 4.0
}

/// How much higher the box is drawn so that words in the air and words on the floor keep apart.
fn taller(spots: &[(Spot, AtSpot)]) -> f64 {
    const ROOM: f64 = 160.0;
    let tall = |high: bool| {
        let here = spots.iter().filter(|(spot, _)| place(*spot).is_some_and(|(_, y)| (0.5 < y) == high));
        here.map(|(spot, at)| steps(&lines(*spot, at)).last().copied().unwrap_or_default()).fold(0.0, f64::max)
    };
    (tall(true) + tall(false) - ROOM).max(0.0)
}

impl Section {
    /// Lays the section out for a width in px.
    pub fn new(drawn: &Drawn<'_>, width: f64) -> Section {
        let tall = 318.0 + taller(&drawn.spots);
        let frame = (SIDE, ABOVE, width - 2.0 * SIDE, tall);
        let (left, top, across, down) = frame;
        let spots = drawn
            .spots
            .iter()
            .filter_map(|(spot, at)| {
                let (x, y) = place(*spot)?;
                let point = (left + across * x, top + (down - FLOOR) * y);
                let lines = lines(*spot, at);
                let high = 0.5 < y;
                // What hangs in the air has its words beneath it, what lies on the floor has them above.
                let first = if high {
                    top + down - FLOOR - 70.0 - steps(&lines).last().copied().unwrap_or_default()
                } else {
                    point.1 + 22.0
                };
                let half = half_width(&lines).min(across / 2.0);
                let middle = point.0.clamp(left + half, left + across - half);
                Some(Placed { spot: *spot, point, words: (middle, first), lines })
            })
            .collect();
        let enclosure = drawn.enclosure;
        let animals = drawn
            .animals
            .iter()
            .filter_map(|animal| {
                let share = animal.length_cm / enclosure.length_cm?;
                let words = format!("{}, {}", animal.name, wording::length(animal.length_cm));
                Some((words, share.min(1.0), 1.0 < share))
            })
            .collect();
        Section {
            width,
            frame,
            spots,
            animals,
            lid: enclosure.lid,
            hides: enclosure.hides.unwrap_or(0),
            humid_hide: enclosure.humid_hide == Some(true),
            heaters: drawn.heaters.iter().map(|heater| heater.kind).collect(),
            length: enclosure.length_cm.map(wording::length),
            says: sentence(drawn),
        }
    }

    fn height(&self) -> f64 {
        let (_, top, _, down) = self.frame;
        top + down + 30.0 + 30.0 * (self.animals.len() as f64) + if self.length.is_some() { 22.0 } else { 0.0 }
    }

    /// Draws it. `name` tells drawings on one page apart.
    pub fn svg(&self, name: &str) -> String {
        let (left, top, across, down) = self.frame;
        let (right, bottom) = (left + across, top + down);
        let mut svg = Svg::new("section", self.width, self.height(), &self.says);
        svg.warm_to_cool(name);
        svg.filled("air", name, left, top, across, down);
        svg.rect("floor", left, bottom - FLOOR, across, FLOOR, "");
        self.draw_hides(&mut svg);
        svg.path("box", &format!("M{left} {top}V{bottom}H{right}V{top}"));
        self.draw_lid(&mut svg);
        self.draw_heaters(&mut svg);
        for placed in &self.spots {
            let (x, y) = placed.point;
            let beneath = placed.words.1 < y;
            let steps = steps(&placed.lines);
            let last = placed.words.1 + steps.last().copied().unwrap_or_default();
            if beneath {
                svg.line("lead", (x, last + 6.0), (x, y - 4.0), "");
            }
            svg.dot("probe", x, y, 4.0, "");
            for ((large, text), step) in placed.lines.iter().zip(&steps) {
                let down = placed.words.1 + step;
                let class = match (large, text == "not read") {
                    (true, false) => "n large",
                    (true, true) => "s unread",
                    _ => "s",
                };
                svg.text(class, placed.words.0, down, Anchor::Middle, text);
            }
        }
        svg.text("s", left, bottom + 20.0, Anchor::Start, "warm end");
        svg.text("s", right, bottom + 20.0, Anchor::End, "cool end");
        self.draw_lengths(&mut svg);
        svg.finish()
    }

    fn draw_hides(&self, svg: &mut Svg) {
        let (left, top, across, down) = self.frame;
        let ground = top + down - FLOOR;
        let hide = |svg: &mut Svg, middle: f64, class: &str, says: &str| {
            let half = across * 0.085;
            let x = left + across * middle;
            svg.path(
                class,
                &format!("M{:.1} {ground:.1}v-30q0 -16 16 -16h{:.1}q16 0 16 16v30", x - half, 2.0 * half - 32.0),
            );
            svg.text("s", x, ground - 6.0, Anchor::Middle, says);
        };
        if 0 < self.hides {
            hide(svg, 0.12, "hide", "hide");
        }
        if 1 < self.hides {
            hide(svg, 0.87, "hide", "hide");
        }
        if self.humid_hide {
            hide(svg, 0.62, "hide humid", "humid");
        }
        let bowl = left + across * if self.humid_hide { 0.75 } else { 0.66 };
        if !self.humid_hide {
            svg.path("bowl", &format!("M{:.1} {:.1}h36l-5 14h-26z", bowl - 18.0, ground - 14.0));
            svg.text("s", bowl, ground - 20.0, Anchor::Middle, "water");
        }
    }

    fn draw_lid(&self, svg: &mut Svg) {
        let (left, top, across, _) = self.frame;
        let right = left + across;
        let says = match self.lid {
            None => "lid not recorded",
            Some(Lid::Solid) => "solid lid",
            Some(Lid::Mesh) => "mesh lid",
            Some(Lid::PartMesh) => "lid partly mesh",
        };
        match self.lid {
            None => {}
            Some(Lid::Solid) => svg.line("lid", (left, top), (right, top), ""),
            Some(Lid::Mesh) => svg.line("lid mesh", (left, top), (right, top), ""),
            Some(Lid::PartMesh) => {
                svg.line("lid", (left, top), (left + across / 2.0, top), "");
                svg.line("lid mesh", (left + across / 2.0, top), (right, top), "");
            }
        }
        svg.text("s", right, top - 10.0, Anchor::End, says);
    }

    fn draw_heaters(&self, svg: &mut Svg) {
        let (left, top, across, down) = self.frame;
        let bottom = top + down;
        for (index, kind) in self.heaters.iter().enumerate() {
            let x = left + across * (0.05 + 0.30 * index as f64);
            match kind {
                HeaterKind::Mat | HeaterKind::Cable => svg.rect("heater", x, bottom + 2.0, across * 0.33, 5.0, ""),
                HeaterKind::Rock => {
                    svg.path("heater", &format!("M{:.1} {:.1}q12 -18 34 0z", x + across * 0.20, bottom - FLOOR))
                }
                HeaterKind::Panel | HeaterKind::Other => svg.rect("heater", x, top + 3.0, across * 0.24, 7.0, ""),
                HeaterKind::Ceramic | HeaterKind::Lamp => {
                    let x = x + across * 0.20;
                    svg.path("heater", &format!("M{x:.1} {:.1}v8l-12 14h24l-12 -14z", top + 1.0));
                }
                HeaterKind::Room => {}
            }
        }
        let names: Vec<&str> = self.heaters.iter().take(2).map(|kind| wording::heater(*kind)).collect();
        let text = if names.is_empty() { "no heater recorded".to_owned() } else { wording::listed(&names) };
        svg.text("s", left, top - 10.0, Anchor::Start, &text);
    }

    /// The inner length, and each animal's beneath it, to the same scale.
    fn draw_lengths(&self, svg: &mut Svg) {
        let (left, top, across, down) = self.frame;
        let Some(length) = &self.length else { return };
        let mut y = top + down + 40.0;
        svg.line("measure", (left, y), (left + across, y), "");
        for x in [left, left + across] {
            svg.line("measure", (x, y - 5.0), (x, y + 5.0), "");
        }
        svg.text("s on-paper", left + across / 2.0, y - 6.0, Anchor::Middle, &format!("{length} inside"));
        for (words, share, longer) in &self.animals {
            y += 30.0;
            svg.line("animal", (left + 4.0, y), (left + across * share - 4.0, y), "");
            if *longer {
                svg.text("s", left + across, y - 8.0, Anchor::End, "longer than the enclosure");
            }
            svg.text("s", left, y - 8.0, Anchor::Start, words);
        }
    }
}

fn sentence(drawn: &Drawn<'_>) -> String {
    let mut parts = Vec::new();
    for (spot, at) in &drawn.spots {
        let name = wording::spot(*spot);
        let wanted =
            |wanted: &Option<String>| wanted.as_ref().map_or(String::new(), |range| format!(", wanted {range}"));
        let modelled = |modelled: &Option<Modelled>| {
            modelled.as_ref().map_or(String::new(), |one| format!("by the model {}", one.full()))
        };
        let said = |what: String, value: Option<String>, model: &Option<Modelled>, want: &Option<String>| {
            let values: Vec<String> =
                value.into_iter().chain([modelled(model)]).filter(|text| !text.is_empty()).collect();
            (!values.is_empty()).then(|| format!("{what} {}{}", values.join(", "), wanted(want)))
        };
        let degrees = at.temperature.as_ref().map(|value| format!("{value} °C"));
        parts.extend(said(name.to_owned(), degrees, &at.modelled_temperature, &at.wanted_temperature));
        let what = format!("humidity at the {name}");
        parts.extend(said(what, at.humidity.clone(), &at.modelled_humidity, &at.wanted_humidity));
    }
    let measured = if parts.is_empty() { "nothing was measured yet".to_owned() } else { parts.join("; ") };
    format!("Section of the enclosure, warm end at the left: {measured}.")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(enclosure: &Enclosure) -> Drawn<'_> {
        let at = |value: &str, wanted: &str| AtSpot {
            temperature: Some(value.to_owned()),
            wanted_temperature: Some(wanted.to_owned()),
            ..AtSpot::default()
        };
        Drawn {
            enclosure,
            heaters: &[],
            spots: vec![
                (Spot::WarmSurface, at("32.1", "31–33")),
                (Spot::WarmAir, AtSpot { wanted_temperature: Some("28–30".into()), ..AtSpot::default() }),
                (Spot::CoolAir, at("25.2", "24–27")),
                (Spot::Room, at("20.5", "")),
            ],
            animals: vec![
                Beneath { name: "Ash".into(), length_cm: 60.0 },
                Beneath { name: "Fern".into(), length_cm: 150.0 },
            ],
        }
    }

    #[test]
    fn the_warm_end_is_at_the_left_and_air_is_above_the_floor() {
        let enclosure = Enclosure { length_cm: Some(120.0), ..Enclosure::default() };
        for width in [DESK, PHONE] {
            let section = Section::new(&drawn(&enclosure), width);
            let point = |spot: Spot| section.spots.iter().find(|one| one.spot == spot).unwrap().point;
            assert!(point(Spot::WarmAir).0 < point(Spot::CoolAir).0);
            assert!(point(Spot::WarmAir).1 < point(Spot::WarmSurface).1);
            assert_eq!(section.spots.len(), 3, "the room is not inside");
            assert!(section.spots.iter().all(|one| 0.0 < one.words.0 && one.words.0 < width));
        }
    }

    #[test]
    fn what_was_not_read_says_so_and_what_is_wanted_stands_beneath() {
        let enclosure = Enclosure::default();
        let section = Section::new(&drawn(&enclosure), DESK);
        let lines = |spot: Spot| section.spots.iter().find(|one| one.spot == spot).unwrap().lines.clone();
        let text = |lines: Vec<(bool, String)>| lines.into_iter().map(|(_, text)| text).collect::<Vec<_>>();
        assert_eq!(text(lines(Spot::WarmSurface)), ["warm surface", "32.1\u{a0}°C", "wanted 31–33"]);
        assert_eq!(text(lines(Spot::WarmAir)), ["warm air", "not read", "wanted 28–30"]);
        assert!(section.says.contains("warm surface 32.1 °C, wanted 31–33"));
        assert!(section.animals.is_empty(), "without a length there is no scale");
    }

    #[test]
    fn what_the_model_says_stands_beside_what_was_measured_or_in_its_place() {
        use care::what_if::{Range, Unit};
        let enclosure = Enclosure::default();
        let mut drawn = drawn(&enclosure);
        let range = Range { low: 30.2, mid: 31.5, high: 33.0 };
        for (_, at) in &mut drawn.spots {
            at.modelled_temperature = Some(Modelled::of(range, Unit::Celsius));
            at.modelled_humidity = Some(Modelled::of(Range { low: 48.0, mid: 55.0, high: 63.0 }, Unit::Humidity));
        }
        for width in [DESK, PHONE] {
            let section = Section::new(&drawn, width);
            let one = |spot: Spot| section.spots.iter().find(|one| one.spot == spot).unwrap();
            let text = |spot: Spot| one(spot).lines.iter().map(|(_, text)| text.as_str()).collect::<Vec<_>>();
            assert_eq!(
                text(Spot::WarmSurface),
                ["warm surface", "32.1\u{a0}°C", "model 30.2–33", "wanted 31–33", "55\u{a0}%", "model, 48–63"]
            );
            assert_eq!(text(Spot::WarmAir)[1..3], ["31.5\u{a0}°C", "model, 30.2–33"]);
            let end = |spot: Spot| one(spot).words.1 + steps(&one(spot).lines).last().unwrap();
            assert!(end(Spot::WarmAir) < one(Spot::WarmSurface).words.1 - SMALL, "air and floor keep apart");
        }
        assert!(sentence(&drawn).contains("warm surface 32.1 °C, by the model 31.5\u{a0}°C (30.2–33), wanted 31–33"));
    }

    #[test]
    fn an_animal_is_drawn_to_the_scale_of_its_enclosure() {
        let enclosure = Enclosure { length_cm: Some(120.0), ..Enclosure::default() };
        let section = Section::new(&drawn(&enclosure), DESK);
        assert_eq!(section.animals[0].1, 0.5);
        assert_eq!((section.animals[1].1, section.animals[1].2), (1.0, true));
        assert!(section.svg("t").contains("longer than the enclosure"));
    }
}
