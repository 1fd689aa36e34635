//! Growth on small records of our own, all simulated.

use records::Case;
use units::Moment;

use super::*;
use crate::testing::{case, moment};
use crate::view::View;

/// Runs `look` on what a rule may look at, at the moment of the case.
fn with<T>(text: &str, look: impl FnOnce(&View<'_>) -> T) -> T {
    let case: Case = case(text);
    let now: Moment = case.at.unwrap();
    let (profile, _) = crate::assess::profile(&case.animal, &case.overrides).unwrap();
    look(&View::new(&case, &profile, now))
}

fn growth(text: &str, ration: Option<f64>) -> Result<Growth, Refusal> {
    with(text, |view| Growth::of(view, ration))
}

fn day(number: i64) -> String {
    let start: jiff::civil::Date = "2027-01-01".parse().unwrap();
    (start + jiff::Span::new().days(number)).to_string()
}

/// A corn snake of that mass on each of these days, asked on `at`.
fn weighed(at: i64, masses: impl IntoIterator<Item = (i64, f64)>) -> String {
    let mut text = format!("at = \"{}T12:00\"\n[animal]\nspecies = \"corn_snake\"\n", day(at));
    for (on, mass) in masses {
        text.push_str(&format!("[[weighing]]\nat = \"{}\"\nmass_g = {mass}\n", day(on)));
    }
    text
}

/// Toward 700 g at 1.2 a year from 40 g.
fn gompertz(days: f64) -> f64 {
    700.0 * ((40.0f64 / 700.0).ln() * (-1.2 * days / 365.2425).exp()).exp()
}

fn monthly(months: i64) -> Vec<(i64, f64)> {
    (0..months).map(|n| (30 * n, gompertz(30.0 * n as f64))).collect()
}

#[test]
fn the_resting_rate_is_that_of_the_check_block() {
    // Physiology notes, check block E1: g, °C, kJ a day.
    for (mass, body_c, kj) in
        [(100.0, 25.0, 2.23), (500.0, 30.0, 12.49), (1000.0, 30.0, 21.74), (1000.0, 20.0, 9.06), (5000.0, 30.0, 78.80)]
    {
        assert!((resting_kj_per_day(mass, body_c) - kj).abs() < 0.006, "{mass} g at {body_c} °C");
    }
}

#[test]
fn rations_are_those_of_the_check_block() {
    // Physiology notes, check block E4: maintenance in g a week at k 0.6, and the ration for a gain.
    let budget = |body_c: f64| Budget {
        factor: Log { mean: 0.6f64.ln(), deviation: 0.3 },
        factor_before: Log { mean: 0.6f64.ln(), deviation: 0.3 },
        stretches: 0,
        body_c,
        net_kj_per_g: 3.7,
        tissue_kj_per_g: 7.5,
        lost_kj_per_g: 12.0,
    };
    for (mass, body_c, weekly) in [(100.0, 30.0, 3.9), (1000.0, 26.0, 17.3), (1500.0, 30.0, 34.0), (3000.0, 30.0, 59.0)]
    {
        let got = 7.0 * budget(body_c).maintenance_g_per_day(mass);
        assert!((got / weekly - 1.0).abs() < 0.013, "{mass} g at {body_c} °C: {got:.1} g a week");
    }
    let for_ten = 7.0 * budget(30.0).ration_for(500.0, 510.0, 7.0);
    assert!((for_ten - 34.4).abs() < 0.5, "{for_ten}");
    let gained = budget(28.5).mass_after(1500.0, 60.0 / 7.0, 7.0) - 1500.0;
    assert!((gained - 14.9).abs() < 0.2, "{gained}");
    // McCue 2007 (notes, E10): a ball python of about 200 g at 27 °C loses 18.3 % in 168 days without a meal.
    let unfed = budget(27.0).mass_after(200.0, 0.0, 168.0) / 200.0;
    assert!((unfed - 0.817).abs() < 0.02, "{unfed}");
}

#[test]
fn on_its_curve_the_forecast_follows_the_curve() {
    let growth = growth(&weighed(330, monthly(12)), None).unwrap();
    for days in [0.0, 30.0, 90.0, 180.0] {
        let [low, mid, high] = growth.at(days).unwrap();
        let truth = gompertz(330.0 + days);
        assert!(low < truth && truth < high, "{days} d: {low} to {high}, true {truth}");
        assert!((mid / truth).ln().abs() < 0.03 + 0.0005 * days, "{days} d: {mid}, true {truth}");
    }
}

#[test]
fn further_ahead_is_less_sure_and_more_weighings_are_surer() {
    let long = growth(&weighed(330, monthly(12)), None).unwrap();
    let width = |growth: &Growth, days: f64| {
        let [low, _, high] = growth.at(days).unwrap();
        (high / low).ln()
    };
    let widths: Vec<f64> = SHOWN_D.iter().map(|days| width(&long, *days)).collect();
    assert!(widths.windows(2).all(|pair| pair[0] < pair[1]), "{widths:?}");
    let two = growth(&weighed(330, [(300, gompertz(300.0)), (330, gompertz(330.0))]), None).unwrap();
    assert!(width(&long, 90.0) < 0.7 * width(&two, 90.0), "{} and {}", width(&long, 90.0), width(&two, 90.0));
}

#[test]
fn what_is_shown_are_the_days_of_the_contract() {
    let growth = growth(&weighed(330, monthly(12)), None).unwrap();
    let days: Vec<f64> = growth.mass().iter().map(|one| one.at.days_since(growth.now)).collect();
    assert_eq!(days, SHOWN_D);
    assert!(growth.mass().iter().all(|one| one.low < one.mid && one.mid < one.high));
}

#[test]
fn one_slip_moves_little_and_a_lasting_change_is_followed() {
    let mut slipped = monthly(12);
    // Too little off to be set aside beforehand, too far for growth.
    slipped[11].1 *= 0.82;
    let off = |masses: Vec<(i64, f64)>, at: i64| growth(&weighed(at, masses), None).unwrap().mass_g();
    let (straight, slip) = (off(monthly(12), 330), off(slipped.clone(), 330));
    assert!(0.88 < slip / straight, "a slip of 18 % moves it by {}", slip / straight);
    // Three more at the lower mass: eggs that nobody wrote down.
    slipped.extend([340, 355, 370].map(|on| (on, 0.75 * gompertz(on as f64))));
    slipped[11].1 = 0.75 * gompertz(330.0);
    let followed = off(slipped, 370) / (0.75 * gompertz(370.0));
    assert!((followed - 1.0).abs() < 0.05, "it stands at {followed} of what is weighed");
}

#[test]
fn a_forecast_is_refused_with_its_reason() {
    let winter = format!(
        "{}[[planned]]\nfrom = \"{}\"\nuntil = \"{}\"\nwhat = \"brumation\"\n",
        weighed(330, monthly(12)),
        day(320),
        day(400)
    );
    let gravid = format!("{}[[breeding]]\nat = \"{}\"\nwhat = \"gravid\"\n", weighed(330, monthly(12)), day(320));
    let coarse = weighed(330, [(240, 50.0), (270, 60.0), (300, 60.0), (330, 70.0)]);
    for (text, why) in [
        (weighed(30, []), Refusal::FewWeighings),
        (weighed(30, [(30, 50.0)]), Refusal::FewWeighings),
        (weighed(30, [(20, 50.0), (30, 51.0)]), Refusal::FewWeighings),
        (weighed(330 + 181, monthly(12)), Refusal::OldWeighing),
        (winter, Refusal::WinterRest),
        (gravid, Refusal::Gravid),
        (coarse, Refusal::CoarseScale),
    ] {
        assert_eq!(growth(&text, None).err(), Some(why), "{text}");
        assert!(!why.says().is_empty());
    }
    assert!(growth(&weighed(30, [(10, 50.0), (24, 51.0)]), None).is_ok(), "two weighings two weeks apart");
    assert!(growth(&weighed(330 + 179, monthly(12)), None).is_ok());
}

/// A grown corn snake of about 500 g, a mouse a week, at a warm end of 29 °C.
fn fed(prey_g: f64, every_d: i64, masses: impl Fn(i64) -> f64) -> String {
    let mut text = weighed(240, (0..9).map(|n| (30 * n, masses(30 * n))));
    for n in 0..(240 / every_d) {
        text.push_str(&format!(
            "[[meal]]\nat = \"{}\"\nmass_g = {prey_g}\noutcome = \"taken\"\n",
            day(n * every_d + 1)
        ));
    }
    text.push_str(&format!(
        "[[reading]]\nat = \"{}\"\nspot = \"warm-air\"\ntemperature_c = 29\nmeans = \"mean\"\n",
        day(239)
    ));
    text
}

#[test]
fn the_budget_reads_its_factor_from_the_animals_own_record() {
    let usual = growth(&fed(20.0, 7, |_| 500.0), None).unwrap();
    let budget = usual.budget.unwrap();
    let needs = budget.maintenance_g_per_day(500.0) * 7.0;
    let before = needs / budget.factor.mean.exp() * budget.factor_before.mean.exp();
    assert!(
        before < 12.0 && 15.0 < needs && needs < 21.0,
        "20 g a week keep it at 500 g: {before:.1}, then {needs:.1}"
    );
    assert!(budget.factor.deviation < budget.factor_before.deviation);
    assert!(matches!(usual.assumes, Assumes::Recent(ration) if (ration.g_per_week() - 20.0).abs() < 2.0));
}

#[test]
fn more_prey_is_more_mass_and_its_own_ration_is_the_forecast_itself() {
    let text = fed(20.0, 7, |_| 500.0);
    let plain = growth(&text, None).unwrap();
    let Assumes::Recent(recent) = plain.assumes else { panic!("meals are known") };
    let after = |ration: f64| growth(&text, Some(ration)).unwrap().at(180.0).unwrap();
    let same = after(recent.g_per_week());
    for (a, b) in plain.at(180.0).unwrap().into_iter().zip(same) {
        assert!((a / b - 1.0).abs() < 1e-9, "{a} and {b}");
    }
    let middles: Vec<f64> = [0.0, 10.0, 20.0, 40.0].map(|ration| after(ration)[1]).to_vec();
    assert!(middles.windows(2).all(|pair| pair[0] < pair[1]), "{middles:?}");
    assert!(middles[0] < 500.0, "without prey it loses: {}", middles[0]);
    assert_eq!(growth(&text, Some(40.0)).unwrap().assumes, Assumes::Asked(40.0));
}

#[test]
fn a_ration_can_be_asked_for_without_any_meal_on_record() {
    let text = weighed(330, monthly(12));
    let plain = growth(&text, None).unwrap().at(180.0).unwrap();
    assert!(growth(&text, Some(0.0)).unwrap().at(180.0).unwrap()[1] < 0.9 * plain[1]);
    assert!(plain[1] < growth(&text, Some(60.0)).unwrap().at(180.0).unwrap()[1]);
}

#[test]
fn a_budget_is_refused_with_its_reason() {
    let text = fed(20.0, 7, |_| 500.0);
    let without = |what: &str| text.lines().filter(|line| !line.contains(what)).collect::<Vec<_>>().join("\n");
    let no_reading = text.split("[[reading]]").next().unwrap().to_owned();
    for (text, matches) in [
        (weighed(330, monthly(12)), (|no| matches!(no, NoBudget::FewMeals)) as fn(NoBudget) -> bool),
        (no_reading, |no| matches!(no, NoBudget::NoTemperature)),
        (without("mass_g = 20"), |no| matches!(no, NoBudget::FewMeals | NoBudget::MealsWithoutMass)),
        (text.replace("= 29\n", "= 12\n"), |no| matches!(no, NoBudget::Temperature { .. })),
        (fed(2.0, 7, |on| 30.0 + 0.01 * on as f64), |no| matches!(no, NoBudget::Light)),
        (fed(20.0, 7, |on| 200.0 + 4.0 * on as f64), |no| matches!(no, NoBudget::MissingMeals { .. })),
    ] {
        let growth = growth(&text, None).unwrap();
        assert!(growth.budget.clone().is_err_and(matches), "{:?}", growth.budget);
        assert_eq!(growth.blend.energy, 0.0);
        assert_eq!(growth.assumes, Assumes::AsBefore);
    }
}

#[test]
fn weighings_are_left_out_with_their_reason() {
    let mut masses: Vec<(i64, f64)> = monthly(14);
    masses[11].1 *= 2.0;
    let text = format!("{}[[weighing]]\nat = \"{}\"\nmass_g = 210\nestimated = true\n", weighed(390, masses), day(389));
    let growth = growth(&text, None).unwrap();
    let why: Vec<LeftOut> = growth.weighings.left_out.iter().map(|(_, why)| *why).collect();
    assert_eq!(why, [LeftOut::StandsAlone, LeftOut::Estimated]);
    assert_eq!(growth.weighings.list.len(), 13);
}

#[test]
fn eggs_are_a_break_and_no_loss_of_growth() {
    let masses = |on: i64| if on < 150 { 900.0 } else { 700.0 };
    let text = weighed(240, (0..9).map(|n| (30 * n, masses(30 * n))));
    let laid = format!("{text}[[breeding]]\nat = \"{}\"\nwhat = \"laid\"\n", day(149));
    let growth = growth(&laid, None).unwrap();
    assert!(growth.weighings.list.iter().filter(|one| one.after_eggs).count() == 1);
    assert!((growth.mass_g() / 700.0 - 1.0).abs() < 0.02, "{}", growth.mass_g());
}

#[test]
fn a_species_without_a_profile_grows_by_its_family() {
    let text = weighed(330, monthly(12))
        .replace("species = \"corn_snake\"", "species = \"Elaphe dione\"\nfamily = \"Colubridae\"");
    let unknown = growth(&text, None).unwrap();
    assert!(!unknown.prior.is_of_the_species && 1.0 < unknown.prior.adult.deviation);
    let known = growth(&weighed(330, monthly(12)), None).unwrap();
    assert!(known.prior.is_of_the_species && known.prior.adult.deviation < 0.7);
    assert!(known.prior.sources.iter().all(|source| !source.key.is_empty()));
}

fn measured(text: &str, on: i64, length_cm: f64) -> String {
    format!("{text}[[measurement]]\nat = \"{}\"\ntotal_length_cm = {length_cm}\n", day(on))
}

fn lengths(text: &str) -> Option<Lengths> {
    with(text, |view| Lengths::of(view, &Growth::of(view, None).unwrap()))
}

#[test]
fn a_corn_snake_of_a_metre_weighs_what_the_check_says_and_back() {
    // Physiology notes, check E6: total length 100 cm, 235.6 g.
    let line = Line::of("corn_snake").unwrap();
    assert!((line.mass_g(100.0) / 235.6 - 1.0).abs() < 0.01, "{}", line.mass_g(100.0));
    assert!((line.length_cm(line.mass_g(87.0)) - 87.0).abs() < 1e-9);
    assert!(Line::of("ball_python").is_none());
}

#[test]
fn length_follows_mass_from_the_animals_own_length() {
    let text = measured(&weighed(330, monthly(12)), 300, 95.0);
    let lengths = lengths(&text).unwrap();
    assert!(matches!(lengths.from, From::Measured { length_cm: 95.0, .. }));
    for days in [0.0, 90.0, 180.0] {
        let [low, mid, high] = lengths.at(days).unwrap();
        let truth = 95.0 * (gompertz(330.0 + days) / gompertz(300.0)).powf(1.0 / 3.03);
        assert!(low < truth && truth < high, "{days} d: {low:.1} to {high:.1} cm, {truth:.1}");
        assert!((mid / truth - 1.0).abs() < 0.03, "{days} d: {mid:.1} cm, {truth:.1}");
    }
    let shown = lengths.shown(moment("2027-12-01"));
    assert_eq!(shown.len(), SHOWN_D.len());
}

#[test]
fn without_a_length_only_a_species_with_a_line_has_one() {
    let own = lengths(&weighed(330, monthly(12))).unwrap();
    assert_eq!(own.from, From::Species);
    let [low, _, high] = own.at(0.0).unwrap();
    let middle = Line::of("corn_snake").unwrap().length_cm(gompertz(330.0));
    assert!(low < middle && middle < high && high / low < 1.2, "{low:.0} to {high:.0} cm");
    assert!(lengths(&weighed(330, monthly(12)).replace("corn_snake", "ball_python")).is_none());
}

#[test]
fn what_loses_mass_does_not_grow_shorter() {
    let falling = (0..9).map(|n| (30 * n, 500.0 - 8.0 * n as f64));
    let lengths = lengths(&measured(&weighed(240, falling), 10, 120.0)).unwrap();
    assert!(lengths.at(180.0).unwrap()[1] >= 120.0 * 0.999);
    assert!(lengths.at(180.0).unwrap()[0] >= 120.0 * 0.97);
}

#[test]
fn a_tape_round_the_animal_tells_how_thick_it_is() {
    // 500 g and a snout-vent length of 115 cm (a total of 147.4 cm): mean diameter 2.35 cm, widest 3.04 cm (check E7).
    let flat = |_| 500.0;
    let text = weighed(240, (0..9).map(|n| (30 * n, flat(n))));
    let plain = lengths(&measured(&text, 240, 115.0 / 0.78)).unwrap();
    assert!((plain.widest_mm(500.0, 115.0 / 0.78) - 30.4).abs() < 0.1);
    let taped = format!("{}girth_cm = 11\n", measured(&text, 240, 115.0 / 0.78));
    let own = lengths(&taped).unwrap();
    assert!((own.widest_mm(500.0, 115.0 / 0.78) - 110.0 / std::f64::consts::PI).abs() < 0.1);
}

#[test]
fn prey_and_enclosure_are_outgrown_when_the_forecast_says() {
    // 264 g on day 330 and growing; the last three mice weigh 23 g, and 8 % is the least: small from 288 g on.
    let mut text = measured(&weighed(330, monthly(12)), 330, 97.0);
    for n in 0..10 {
        text.push_str(&format!("[[meal]]\nat = \"{}\"\nmass_g = 23\noutcome = \"taken\"\n", day(259 + 7 * n)));
    }
    text.push_str("[enclosure]\nlength_cm = 100\nwidth_cm = 50\n");
    let (prey, enclosure, now) = with(&text, |view| {
        let growth = Growth::of(view, None).unwrap();
        let lengths = Lengths::of(view, &growth).unwrap();
        (steps::prey(view, &growth), steps::enclosure(view, &growth, &lengths), growth.now)
    });
    for dates in [prey, enclosure].into_iter().flatten() {
        assert!(now <= dates.low && dates.low < dates.mid && dates.mid < dates.high, "{dates:?}");
    }
    let enclosure = enclosure.unwrap();
    assert!((30.0..150.0).contains(&enclosure.mid.days_since(now)), "{}", enclosure.mid.days_since(now));
    let prey = prey.unwrap();
    assert!((15.0..60.0).contains(&prey.mid.days_since(now)), "{}", prey.mid.days_since(now));
}

/// Toward 400 g, fast: half a year from 20 g to near its end.
fn bent(days: f64) -> f64 {
    400.0 * ((20.0f64 / 400.0).ln() * (-3.0 * days / 365.2425).exp()).exp()
}

fn adult(text: &str) -> Result<AdultSize, NotYet> {
    with(text, |view| adult_size(view, &Weighings::of(view)))
}

#[test]
fn an_adult_size_is_told_only_once_growth_has_bent() {
    let noise = [0.01, -0.012, 0.004, -0.006, 0.011, 0.0, -0.009, 0.008];
    let series = |months: i64, size: fn(f64) -> f64| {
        let masses = (0..months).map(move |n| (30 * n, size(30.0 * n as f64) * (1.0 + noise[n as usize % 8])));
        weighed(30 * (months - 1), masses)
    };
    let grown = adult(&series(18, bent)).unwrap();
    let [low, mid, high] = grown.mass_g;
    assert!(low < 400.0 && 400.0 < high && (mid / 400.0 - 1.0).abs() < 0.1, "{:?}", grown.mass_g);
    assert!(grown.curves.iter().map(|(_, weight)| weight).sum::<f64>() - 1.0 < 1e-9);
    assert_eq!(adult(&series(5, bent)), Err(NotYet::FewWeighings));
    assert_eq!(adult(&series(12, |days| 20.0 * (1.5 * days / 365.0).exp())), Err(NotYet::StillStraight));
    let giant = |days: f64| 6.0 * bent(days);
    assert_eq!(adult(&series(18, giant)), Err(NotYet::BeyondItsKind));
    assert!(1.02 < high / mid && mid / low < 1.3, "{:?}", grown.mass_g);
    for why in [NotYet::FewWeighings, NotYet::StillStraight, NotYet::NoCurve, NotYet::BeyondItsKind] {
        assert!(why.says().starts_with("Not enough"));
    }
}

fn scored(text: &str) -> past::Score {
    let case = case(text);
    let (profile, _) = crate::assess::profile(&case.animal, &case.overrides).unwrap();
    past::score(&case, &profile, case.at.unwrap())
}

#[test]
fn earlier_forecasts_are_made_again_from_what_was_known_then() {
    let score = scored(&weighed(390, monthly(14)));
    assert!((3..=8).contains(&score.list.len()), "{}", score.list.len());
    for one in &score.list {
        assert!((60.0..=121.0).contains(&(one.for_day.days_since(one.made) + 1.0)));
        assert!(one.off() < 0.15 && one.held(), "{one:?}");
    }
    assert!(score.list.windows(2).all(|pair| pair[0].made < pair[1].made));
    let says = score.says().unwrap();
    assert!(says.starts_with("90-day forecasts for this animal were "), "{says}");
    assert!(says.ends_with(&format!("{0} of {0} held what was weighed.", score.list.len())), "{says}");
    // What came later changes no forecast that was made before.
    let mut changed = monthly(14);
    changed[13].1 *= 1.1;
    let other = scored(&weighed(390, changed));
    let same = score.list.iter().zip(&other.list).filter(|(a, b)| a.made == b.made && a.mass_g == b.mass_g).count();
    assert_eq!(same, score.list.len());
    assert!(scored(&weighed(60, monthly(3))).list.is_empty());
    assert!(scored(&weighed(60, monthly(3))).says().is_none());
}

fn ask(text: &str, typed: &[(&str, &str)]) -> Result<crate::what_if::Reckoning, Vec<records::Fault>> {
    use crate::what_if::{Known, Question};
    let case = case(text);
    let (now, zone) = (case.at.unwrap(), case.zone.clone());
    let known = Known { animal: Some(case), ..Known::nothing(now, zone) };
    let pairs = typed.iter().map(|(key, value)| ((*key).to_owned(), records::Raw::Text((*value).to_owned()))).collect();
    Question::Growth.ask(&records::fields::Given { pairs, origin: "the test".into() }, &known)
}

#[test]
fn the_answer_says_the_mass_its_range_the_ration_and_what_it_rests_on() {
    let text = measured(&fed(20.0, 7, |on| 300.0 + 0.4 * on as f64), 235, 105.0);
    let answer = ask(&text, &[("mass", "420")]).unwrap();
    let main = &answer.says[0];
    for part in [" it is likely to weigh about ", " to ", "if it goes on eating as in the last", "of prey a week"] {
        assert!(main.contains(part), "{main}");
    }
    let has = |part: &str| answer.says.iter().any(|says| says.contains(part));
    for part in ["in thirty days", "likely to weigh 420 g from", "counts for", "90-day forecasts", "105 cm"] {
        assert!(has(part), "{part}: {:#?}", answer.says);
    }
    let mid = answer.amount("mass-90-days").unwrap().range;
    assert!(mid.low < mid.mid && mid.mid < mid.high);
    for key in ["mass-now", "mass-180-days", "maintenance-ration", "length-now"] {
        assert!(answer.amount(key).is_some(), "{key}");
    }
    assert_eq!(answer.curve("mass").unwrap().points.last().unwrap().minutes, 180.0 * 1440.0);
    assert!(answer.curve("length").is_some());
    let tables: Vec<&str> = answer.tables.iter().map(|table| table.key).collect();
    assert_eq!(tables, ["rations", "intake", "earlier"]);
    assert_eq!(answer.guesses.len(), 4);
    let weights: f64 = answer.guesses.iter().map(|guess| guess.weight).sum();
    assert!(0.0 < weights && weights <= 1.0, "{weights}");
    assert!(answer.sources.len() >= 4 && answer.untold.iter().any(|says| says.starts_with("Not enough")));
    let more = ask(&text, &[("ration", "60")]).unwrap();
    assert!(more.says[0].contains("on 60 g of prey a week"), "{}", more.says[0]);
    assert!(mid.mid < more.amount("mass-90-days").unwrap().range.mid);
}

#[test]
fn a_refusal_is_an_answer_and_a_slip_of_the_keys_is_a_fault() {
    let answer = ask(&weighed(30, [(30, 50.0)]), &[]).unwrap();
    assert!(
        answer.says[0].starts_with("No forecast of its mass would be honest: there are too few"),
        "{}",
        answer.says[0]
    );
    assert!(answer.amounts.is_empty() && answer.curves.is_empty() && answer.untold.is_empty());
    let faults = ask(&weighed(330, monthly(12)), &[("ration", "many"), ("mass", "-3"), ("rations", "2")]).unwrap_err();
    assert_eq!(faults.len(), 3, "{faults:?}");
    let zone = units::Zone::none();
    let known = crate::what_if::Known::nothing(moment("2027-01-01"), zone);
    let typed = records::fields::Given { pairs: Vec::new(), origin: "the test".into() };
    assert!(crate::what_if::Question::Growth.ask(&typed, &known).unwrap_err()[0].what.contains("no animal"));
}

#[test]
fn meals_that_cannot_be_all_are_warned_of() {
    let answer = ask(&fed(20.0, 7, |on| 200.0 + 4.0 * on as f64), &[]).unwrap();
    let warning = answer.warning("meals-missing").unwrap();
    assert!(warning.says.contains("more than can be"), "{}", warning.says);
}

#[test]
fn what_each_weighing_was_likely_to_show_hangs_on_those_before_it_alone() {
    let weighings = |last_g: f64| {
        let mut text = String::from("[animal]\nspecies = \"corn_snake\"\nhatched = \"2025-07-01\"\n");
        for (month, grams) in [(1, 40.0), (2, 46.0), (3, 52.0), (4, 58.0), (5, last_g)] {
            text.push_str(&format!("[[weighing]]\nat = \"2026-0{month}-03T10:00\"\nmass_g = {grams}\n"));
        }
        past::Past::of(&case(&text), moment("2026-05-20T12:00")).likely
    };
    let (usual, odd) = (weighings(64.0), weighings(40.0));
    assert_eq!(usual.len(), 3, "from the third weighing on");
    assert_eq!(usual, odd, "the last weighing changes nothing of what was likely before it");
    let last = usual.last().unwrap();
    assert!(last.low < 64.0 && 64.0 < last.high && 40.0 < last.low, "{last:?}");
}
