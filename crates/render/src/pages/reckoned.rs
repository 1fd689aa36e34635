//! The answer to a question in finished words, with its drawings.

use askama::Template;
use care::twin::words;
use care::what_if::{
    AtSpot as ModelledSpot, Basis, Cell, Checked, Dated, Question, Reckoning, Step, Table, Topic, Unit, Warning,
};
use records::choice::Choice as _;
use records::facts::{Enclosure, Heater};

use super::parts::{self, SourceLine};
use crate::amounts;
use crate::curve::{self, Chart, Drawing};
use crate::section::{self, AtSpot, Drawn, Modelled, Section};
use crate::wording::{self, Clock};

struct WarningView {
    class: &'static str,
    label: &'static str,
    says: String,
    does: String,
    caution: Option<&'static str>,
    sources: Vec<SourceLine>,
}

struct AmountView {
    says: String,
    middle: String,
    spread: Option<String>,
}

struct DateView {
    says: String,
    middle: String,
    spread: Option<String>,
}

struct CheckView {
    asks: String,
    verdict: &'static str,
    stands_out: bool,
    says: String,
    does: Option<String>,
    sources: Vec<SourceLine>,
}

struct Rows {
    title: String,
    head: Vec<String>,
    rows: Vec<Vec<String>>,
}

struct ChartView {
    title: String,
    desk: String,
    phone: String,
    far: Vec<String>,
    rows: Rows,
}

/// One thing to do, in words.
pub(crate) struct StepView {
    pub at: Option<String>,
    pub does: String,
    pub because: String,
}

struct GuessView {
    says: String,
    taken: String,
    share: String,
    target: Option<String>,
    source: Option<SourceLine>,
}

/// The answer as it is shown.
#[derive(Template)]
#[template(path = "parts/reckoning.html")]
pub(crate) struct ReckonedView {
    /// What the answer is called for those who do not see it.
    label: String,
    main: Option<String>,
    more: Vec<String>,
    warnings: Vec<WarningView>,
    dates: Vec<DateView>,
    amounts: Vec<AmountView>,
    checks: Vec<CheckView>,
    desk: Option<String>,
    phone: Option<String>,
    drawn: &'static str,
    spots: Rows,
    charts: Vec<ChartView>,
    tables: Vec<Rows>,
    steps: Vec<StepView>,
    guesses: Vec<GuessView>,
    untold: Vec<String>,
    basis: Option<String>,
    cautions: Vec<&'static str>,
    sources: Vec<SourceLine>,
}

fn caution(key: &str) -> Option<&'static str> {
    species::library().caution(key).map(|one| one.text.as_str())
}

fn warning((one, said): (&Warning, Option<&'static str>)) -> WarningView {
    WarningView {
        class: one.severity.key(),
        label: wording::severity(one.severity),
        says: wording::kept(&one.says),
        does: wording::kept(&one.does),
        caution: said.and_then(caution),
        sources: parts::sources(one.source.as_slice()),
    }
}

fn date(one: &Dated, clock: &Clock) -> DateView {
    let (middle, span) = (clock.day(one.range.mid), clock.days(one.range.low, one.range.high));
    DateView { says: wording::capital(&one.says), spread: (span != middle).then_some(span), middle }
}

fn check(one: &Checked) -> CheckView {
    CheckView {
        asks: wording::kept(&one.asks),
        verdict: one.verdict,
        stands_out: one.stands_out,
        says: wording::kept(&one.says),
        does: one.does.as_ref().map(|does| wording::kept(does)),
        sources: parts::sources(one.source.as_slice()),
    }
}

fn table(table: &Table) -> Rows {
    let cell = |cell: &Cell| match cell {
        Cell::Says(text) => text.clone(),
        Cell::Is(range, unit) => amounts::full(*range, *unit),
        Cell::Nothing => "–".to_owned(),
    };
    Rows {
        title: wording::capital(&table.says),
        head: table.columns.iter().map(|(_, says)| wording::kept(&wording::capital(says))).collect(),
        rows: table.rows.iter().map(|row| row.iter().map(cell).collect()).collect(),
    }
}

fn chart(one: &Chart<'_>) -> ChartView {
    let names: Vec<&str> = one.curves.iter().map(|curve| curve.says.as_str()).collect();
    let (head, rows) = one.table();
    let title = wording::capital(&wording::listed(&names));
    ChartView {
        desk: Drawing::new(one, curve::DESK).svg(),
        phone: Drawing::new(one, curve::PHONE).svg(),
        far: one.far(),
        rows: Rows { title: title.clone(), head, rows },
        title,
    }
}

/// What the model says of a spot, for the drawing.
fn at_spot(one: &ModelledSpot) -> AtSpot {
    AtSpot {
        temperature: one.measured_c.map(|degrees| wording::number(degrees, 1)),
        modelled_temperature: one.temperature_c.map(|range| Modelled::of(range, Unit::Celsius)),
        wanted_temperature: one.wanted_c.map(|(low, high)| wording::range(low, high, "")),
        modelled_humidity: one.humidity_pct.map(|range| Modelled::of(range, Unit::Humidity)),
        ..AtSpot::default()
    }
}

fn spots(answer: &Reckoning) -> Rows {
    let row = |one: &ModelledSpot| {
        let shown = |text: Option<String>| text.unwrap_or_else(|| "–".to_owned());
        vec![
            wording::capital(wording::spot(one.spot)),
            shown(one.temperature_c.map(|range| amounts::full(range, Unit::Celsius))),
            shown(one.humidity_pct.map(|range| amounts::full(range, Unit::Humidity))),
            shown(one.measured_c.map(wording::celsius)),
            shown(one.wanted_c.map(|(low, high)| wording::range(low, high, "°C"))),
        ]
    };
    Rows {
        title: "Spots from warm to cool".to_owned(),
        head: ["Spot", "Temperature by the model", "Humidity by the model", "Measured", "Wanted"]
            .map(str::to_owned)
            .to_vec(),
        rows: answer.spots.iter().map(row).collect(),
    }
}

/// At which moment the drawing stands.
fn drawn_when(topic: Topic) -> &'static str {
    match topic {
        Topic::Question(Question::PowerCut) => "Each spot at the hour that is named above, some hours into the cut.",
        Topic::Question(Question::Runaway) => "Each spot in the end, with the heater always on.",
        _ => "Each spot as the model has it, beside what was measured and what is wanted.",
    }
}

/// One thing to do, with its hour.
pub(crate) fn step(step: &Step, clock: &Clock) -> StepView {
    StepView {
        at: step.at.map(|at| clock.hour(at)),
        does: wording::kept(&step.does),
        because: wording::kept(&step.because),
    }
}

/// The answer in finished words; `fields` are the keys of the form beneath it.
pub(crate) fn view(
    answer: &Reckoning,
    clock: &Clock,
    enclosure: &Enclosure,
    heaters: &[Heater],
    fields: &[&str],
) -> ReckonedView {
    let drawn = Drawn {
        enclosure,
        heaters,
        spots: answer.spots.iter().map(|one| (one.spot, at_spot(one))).collect(),
        animals: Vec::new(),
    };
    let draw = |width: f64, name: &str| (!answer.spots.is_empty()).then(|| Section::new(&drawn, width).svg(name));
    let basis = match answer.basis {
        Basis::Fitted { from, until, rms_k } => Some(format!(
            "Fitted to the log of {} until {}; it was off by about {}{}K.",
            words::lasted(until.hours_since(from)),
            clock.moment(until),
            wording::number(rms_k, 1),
            wording::STAY
        )),
        Basis::Described => Some("From the description alone.".to_owned()),
        Basis::Direct => None,
    };
    ReckonedView {
        label: match answer.topic {
            Topic::Question(_) => "The answer".to_owned(),
            Topic::Study(study) => format!("{}: the answer", study.title()),
        },
        main: answer.says.first().map(|text| wording::kept(text)),
        more: answer.says.iter().skip(1).map(|text| wording::kept(text)).collect(),
        warnings: answer.warned().map(warning).collect(),
        dates: answer.dates.iter().map(|one| date(one, clock)).collect(),
        checks: answer.checks.iter().map(check).collect(),
        amounts: answer
            .loose_amounts()
            .map(|one| AmountView {
                says: wording::kept(&wording::capital(&one.says)),
                middle: amounts::middle(one.range, one.unit),
                spread: amounts::spread(one.range, one.unit),
            })
            .collect(),
        desk: draw(section::DESK, "model-desk"),
        phone: draw(section::PHONE, "model-phone"),
        drawn: drawn_when(answer.topic),
        spots: spots(answer),
        charts: curve::charts(&answer.curves, &answer.limits).iter().map(chart).collect(),
        tables: answer.tables.iter().map(table).collect(),
        steps: answer.steps.iter().map(|one| step(one, clock)).collect(),
        guesses: answer
            .guesses
            .iter()
            .map(|guess| GuessView {
                says: wording::capital(&guess.says),
                taken: amounts::between(guess.range, guess.unit),
                share: amounts::share(guess.weight),
                target: guess.field.filter(|field| fields.contains(field)).map(|field| format!("#f-{field}")),
                source: parts::sources(std::slice::from_ref(&guess.source)).into_iter().next(),
            })
            .collect(),
        untold: answer.untold.iter().map(|text| wording::kept(text)).collect(),
        basis,
        cautions: answer.other_cautions().filter_map(caution).collect(),
        sources: parts::sources(&answer.sources),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn shown(answer: &Reckoning) -> String {
        let clock = Clock::new(&sample::zone(), sample::now());
        view(answer, &clock, &Enclosure::default(), &[], &["wall_mm"]).render().unwrap()
    }

    #[test]
    fn the_main_sentence_comes_first_and_nothing_is_left_out() {
        let html = shown(&sample::power_cut());
        let at = |text: &str| html.find(text).unwrap_or_else(|| panic!("{text}\n{html}"));
        assert!(at("below 24\u{a0}°C after about 3 hours") < at("A blanket buys about an hour."));
        assert!(at("See to it today") < at("3.2\u{a0}h"));
        for text in [
            "aria-label=\"Section of the enclosure",
            "warm surface 32.1 °C, by the model 32.4",
            "aria-label=\"Over 8\u{a0}h: warm surface from 32\u{a0}°C to",
            "19:45",
            "href=\"#f-wall_mm\"",
            "61\u{a0}%",
            "How warm the hide is",
            "off by about 0.4\u{a0}K",
            "skin burns (55\u{a0}°C)",
        ] {
            at(text);
        }
    }

    #[test]
    fn hostile_text_stays_text() {
        let html = shown(&sample::hostile());
        assert!(!html.contains("<img") && !html.contains("</script>"), "{html}");
        assert!(html.contains("&lt;img") || html.contains("&#60;img"));
    }
}
