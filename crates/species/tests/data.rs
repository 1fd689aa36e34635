//! The data themselves: complete, sourced, in order, and beside a text from outside.

use std::collections::{BTreeMap, BTreeSet};

use rstest::rstest;
use species::{Figure, Figures, Grade, Library, Profile, Status, library, unit_of};

fn first(figures: &Figures) -> &Figure {
    &figures.0[0]
}

fn species() -> impl Iterator<Item = &'static Profile> {
    library().profiles.iter().filter(|profile| !profile.general)
}

#[test]
fn the_data_are_whole() {
    let library = library();
    let faults: Vec<String> = library.faults.iter().map(ToString::to_string).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n\n"));
    assert_eq!(species().count(), 32);
    assert_eq!(library.profiles.len(), 36);
    assert_eq!(library.disinfectants.len(), 7);
    assert_eq!(library.uv_zones.iter().map(|zone| zone.zone).collect::<Vec<_>>(), [1, 2, 3, 4]);
    assert_eq!(library.version().len(), 12);
}

#[test]
fn the_general_rules_are_all_there() {
    let file = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/data/general.toml")).unwrap();
    let ids: Vec<&str> = file.lines().filter_map(|line| line.strip_prefix("id = \"")?.strip_suffix('"')).collect();
    assert_eq!(ids.len(), 133);
    for id in ids {
        assert!(library().rule(id).is_some(), "{id}");
    }
}

#[test]
fn a_rule_keeps_its_groups_steps_and_other_views() {
    let rule = library().rule("feed_hold_regurgitation").unwrap();
    let days = |group: &str| rule.group(group).and_then(|group| group.figure.as_ref()).map(|figure| figure.low);
    assert_eq!(days("default"), Some(14.0));
    assert_eq!(days("hatchling, or second event"), Some(21.0));
    assert_eq!(rule.group("default").unwrap().figure.as_ref().unwrap().source, "mem-reg", "the rule's own source");
    assert_eq!(rule.group("default").unwrap().unit.as_deref(), Some("d"));
    assert_eq!(rule.alternatives.len(), 1);

    let cold = library().rule("power_alert_tropical").unwrap();
    assert_eq!(cold.steps, [22.0, 22.0, 18.0]);
    let cut = library().rule("power_cut_hours").unwrap();
    let bears = &cut.group("temperate adult, empty gut").unwrap().numbers;
    assert_eq!(bears, &BTreeMap::from([("bears_c".to_owned(), 10.0), ("hours".to_owned(), 24.0)]));
    assert_eq!(library().rule("tube_volume").unwrap().never.as_deref(), Some("shown or planned with"));
    let yes_or_no = library().rule("quarantine_all_in_all_out").unwrap();
    assert_eq!((&yes_or_no.figure, &yes_or_no.unit), (&None, &None));
}

/// The facts of the trade: id, low, high, unit.
#[rstest]
#[case("prey-surface", 29.4, 32.2, "C")]
#[case("prey-thickness", 1.0, 1.0, "x")]
#[case("thawed-uneaten", 1.0, 2.0, "d")]
#[case("meal-interval", 5.0, 10.0, "d")]
#[case("arrival", 7.0, 14.0, "d")]
#[case("handling-after-meal", 24.0, 48.0, "h")]
#[case("first-handling", 5.0, 10.0, "min")]
#[case("shed-interval-young", 28.0, 28.0, "d")]
#[case("pre-shed-signs", 7.0, 10.0, "d")]
#[case("shed-humidity", 10.0, 10.0, "points of % RH")]
#[case("good-shed", 1.0, 1.0, "pieces")]
#[case("water-bowl", 1.0, 1.0, "d")]
#[case("substrate", 60.0, 90.0, "d")]
fn a_fact_of_the_trade_is_common_practice(#[case] id: &str, #[case] low: f64, #[case] high: f64, #[case] unit: &str) {
    let fact = library().trade_fact(id).unwrap();
    let figure = fact.figure.as_ref().unwrap();
    assert_eq!((figure.low, figure.high, fact.unit.as_deref()), (low, high, Some(unit)));
    assert_eq!((fact.source.as_str(), fact.status), ("trade", Status::CommonPractice));
}

#[test]
fn the_trades_surface_of_prey_is_85_to_90_fahrenheit() {
    let surface = library().trade_fact("prey-surface").unwrap().figure.as_ref().unwrap();
    for (celsius, fahrenheit) in [(surface.low, 85.0), (surface.high, 90.0)] {
        assert!((celsius * 1.8 + 32.0 - fahrenheit).abs() < 0.1, "{celsius} °C");
    }
}

#[test]
fn the_prey_classes_are_those_of_a_case() {
    let expected = "mouse-pinky mouse-fuzzy mouse-hopper mouse-weaned mouse-adult mouse-jumbo rat-pinky rat-fuzzy rat-pup \
        rat-weaned rat-small rat-medium rat-large rat-jumbo soft-furred-rat gerbil rabbit chick quail-day-old \
        quail-juvenile quail-adult fish earthworm lizard other";
    let keys: BTreeSet<&str> = library().prey.iter().map(|class| class.key.as_str()).collect();
    assert_eq!(keys, expected.split_whitespace().collect());
    let without_mass: Vec<&str> =
        library().prey.iter().filter(|class| class.mass_g.is_none()).map(|class| class.key.as_str()).collect();
    assert_eq!(without_mass, ["fish", "earthworm", "lizard", "other"]);
}

/// Diameter 8.3 m^(1/3) mm and length 28 m^(1/3) mm, m in g: a prolate ellipsoid of about 1 g/cm³.
#[test]
fn the_sizes_of_prey_follow_its_mass() {
    for class in &library().prey {
        let Some(mass) = &class.mass_g else { continue };
        let (diameter, length) = (class.diameter_mm.as_ref().unwrap(), class.length_mm.as_ref().unwrap());
        for (mass_g, diameter_mm, length_mm) in
            [(mass.low, diameter.low, length.low), (mass.high, diameter.high, length.high)]
        {
            let root = mass_g.cbrt();
            assert!((8.3 * root - diameter_mm).abs() <= 1.0, "{}: {diameter_mm} mm at {mass_g} g", class.key);
            assert!((28.0 * root - length_mm).abs() <= 2.0, "{}: {length_mm} mm at {mass_g} g", class.key);
        }
    }
}

#[rstest]
#[case::hygiene("hygiene")]
#[case::prey_handling("prey-handling")]
#[case::live_prey("live-prey")]
#[case::large_constrictor("large-constrictor")]
#[case::giant_feeding("giant-feeding")]
#[case::heat_and_fire("heat-and-fire")]
#[case::burns("burns")]
#[case::overheating("overheating")]
#[case::chilled("chilled")]
#[case::power_cut("power-cut")]
#[case::wiring("wiring")]
#[case::disinfectants("disinfectants")]
#[case::treatment("treatment")]
#[case::soaking("soaking")]
#[case::refeeding("refeeding")]
#[case::no_force_feeding("no-force-feeding")]
#[case::law("law")]
#[case::eye_caps("eye-caps")]
#[case::prolapse_and_eggs("prolapse-and-eggs")]
#[case::euthanasia("euthanasia")]
#[case::after_death("after-death")]
#[case::transport("transport")]
#[case::escape("escape")]
#[case::bite("bite")]
#[case::fish_diet("fish-diet")]
#[case::prey_hot("prey-hot")]
#[case::quarantine("quarantine")]
#[case::sensors("sensors")]
#[case::substrate("substrate")]
#[case::call_veterinarian("call-veterinarian")]
fn a_caution_is_short(#[case] key: &str) {
    let caution = library().caution(key).unwrap();
    assert!(caution.text.ends_with('.') && caution.text.len() <= 260, "{} letters", caution.text.len());
}

#[test]
fn every_source_is_cited() {
    let uncited: Vec<&str> =
        library().sources.keys().map(String::as_str).filter(|key| library().cited_by(key).next().is_none()).collect();
    assert!(uncited.is_empty(), "{uncited:?}");
}

/// What nobody read cannot be verified, and what only the trade says is common practice.
#[test]
fn no_status_is_higher_than_its_source_allows() {
    let allowed = |grade: Grade| match grade {
        Grade::A | Grade::B | Grade::C => Status::Verified,
        Grade::D | Grade::M | Grade::Calc => Status::CommonPractice,
    };
    let mut checked = 0;
    for profile in &library().profiles {
        for path in profile.value_paths() {
            let Some(figure) = profile.value(&path) else { continue };
            let grade = library().source(&figure.source).unwrap().grade;
            assert!(figure.status <= allowed(grade), "{}: {path} from {}", profile.key, figure.source);
            checked += 1;
        }
    }
    for rule in library().rules.iter().chain(&library().trade) {
        let grade = library().source(&rule.source).unwrap().grade;
        assert!(rule.status <= allowed(grade), "{} from {}", rule.id, rule.source);
    }
    assert!(1500 < checked);
}

#[test]
fn every_value_has_a_unit_and_every_ordered_figure_its_order() {
    for profile in &library().profiles {
        for path in profile.value_paths() {
            assert!(unit_of(&path).is_some(), "{path}");
            if let Some(figure) = profile.value(&path) {
                assert!(
                    figure.low.is_finite() && figure.low <= figure.middle() && figure.middle() <= figure.high,
                    "{path}"
                );
                assert!(!figure.source.is_empty(), "{path}");
            }
        }
    }
    for rule in library().rules.iter().chain(&library().trade) {
        assert!(rule.figure.is_none() || rule.unit.is_some(), "{}", rule.id);
        for group in &rule.groups {
            assert!(group.figure.is_none() || group.unit.is_some(), "{}: {}", rule.id, group.group);
        }
    }
}

/// Paths that care cannot do without.
const NEEDED: [&str; 29] = [
    "temperature.basking_surface_c",
    "temperature.warm_ambient_c",
    "temperature.cool_ambient_c",
    "temperature.night_min_c",
    "temperature.surface_absolute_max_c",
    "temperature.digest_min_c",
    "temperature.overheat_c",
    "humidity.normal_pct",
    "humidity.shed_pct",
    "feeding.hatchling.interval_d",
    "feeding.juvenile.interval_d",
    "feeding.subadult.interval_d",
    "feeding.adult.interval_d",
    "prey_limit.mass_pct",
    "prey_limit.girth_x",
    "refusal_alert_d.hatchling",
    "refusal_alert_d.juvenile",
    "refusal_alert_d.subadult",
    "refusal_alert_d.adult",
    "shed.interval_d.hatchling",
    "shed.interval_d.juvenile",
    "shed.interval_d.subadult",
    "shed.interval_d.adult",
    "shed.blue_d",
    "shed.clear_to_shed_d",
    "shed.total_d",
    "enclosure.length_x",
    "fasting.typical_d",
    "life.longevity_typical_y",
];

/// What a species lacks and takes from its family. Nothing at present: every species has the whole set of its own.
const LACKING: [(&str, &[&str]); 0] = [];

#[test]
fn every_profile_has_what_care_needs() {
    for profile in &library().profiles {
        for path in NEEDED {
            assert!(profile.value(path).is_some(), "{} has no {path}", profile.key);
        }
    }
    let lacking: Vec<(&str, Vec<&str>)> = species()
        .filter(|profile| !profile.inherited.is_empty())
        .map(|profile| (profile.key.as_str(), profile.inherited.iter().map(String::as_str).collect()))
        .collect();
    assert_eq!(lacking, LACKING.map(|(key, paths)| (key, paths.to_vec())));
}

#[test]
fn what_a_species_lacks_is_its_familys() {
    let data = concat!(env!("CARGO_MANIFEST_DIR"), "/data/");
    let read = |name: &str| std::fs::read_to_string(format!("{data}{name}")).unwrap();
    let names = ["sources.toml", "prey.toml", "general_python.toml"];
    let texts = names.map(read);
    let bare = "key = \"bare\"\nscientific_name = \"Exemplum nudum\"\nfamily = \"Pythonidae\"\nclimate = \"tropical\"\n\
        [temperature]\nnight_min_c = { value = 21, source = \"mem-trade\", status = \"common-practice\" }\n";
    let mut files: Vec<(&str, &str)> = names.iter().zip(&texts).map(|(name, text)| (*name, text.as_str())).collect();
    files.push(("bare.toml", bare));
    let library = Library::parse(&files).unwrap();
    let (bare, family) = (library.profile("bare").unwrap(), library.profile("general_python").unwrap());
    assert_eq!(bare.temperature.night_min_c.first().map(|figure| figure.low), Some(21.0), "its own stays");
    assert_eq!(bare.temperature.warm_ambient_c, family.temperature.warm_ambient_c);
    assert_eq!(bare.feeding.adult, family.feeding.adult);
    assert_eq!(bare.shed.interval_d.hatchling, family.shed.interval_d.hatchling);
    assert!(bare.inherited.iter().any(|path| path == "temperature.warm_ambient_c"));
    assert!(!bare.inherited.iter().any(|path| path == "temperature.night_min_c"));
    assert!(bare.size.adult_mass_g_any.is_empty(), "an animal's size is never a family's");
    for path in NEEDED {
        assert!(bare.value(path).is_some(), "{path}");
    }
}

#[test]
fn the_temperatures_of_a_profile_are_in_order() {
    for profile in &library().profiles {
        let of = &profile.temperature;
        let (night, cool, warm) = (first(&of.night_min_c), first(&of.cool_ambient_c), first(&of.warm_ambient_c));
        let (bask, limit) = (first(&of.basking_surface_c), first(&of.surface_absolute_max_c));
        let key = &profile.key;
        assert!(night.high < cool.low, "{key}: a night below the cool end");
        assert!(cool.low < warm.low && cool.high <= warm.low, "{key}: the cool end below the warm end");
        assert!(
            warm.low <= bask.low && warm.high <= bask.high,
            "{key}: a surface to bask on is no cooler than the air"
        );
        assert!(bask.high <= limit.low, "{key}: the limit above the basking surface");
        assert!(warm.high < first(&of.overheat_c).low, "{key}: overheating above the warm air");
        let digest = first(&of.digest_min_c).low;
        assert!((warm.low - 3.0 - digest).abs() < 0.05, "{key}: too cold to digest is the least warm air less 3");
    }
}

#[test]
fn the_stages_of_a_profile_are_in_order() {
    for profile in &library().profiles {
        let key = &profile.key;
        assert!(profile.feeding.is_complete() && profile.shed.interval_d.is_complete(), "{key}");
        let stages: Vec<_> = profile.feeding.iter().collect();
        for pair in stages.windows(2) {
            let [(_, young), (stage, old)] = pair else { continue };
            let (young_mass, old_mass) = (young.stage_mass_g.unwrap(), old.stage_mass_g.unwrap());
            assert!(young_mass.0 < old_mass.0 && young_mass.1 < old_mass.1, "{key}: masses of {stage}");
            assert!(
                young.interval_d.low <= old.interval_d.low && young.interval_d.high <= old.interval_d.high,
                "{key}: interval of {stage}"
            );
        }
        let limit = first(&profile.prey_limit.mass_pct).low;
        for (stage, feeding) in profile.feeding.iter() {
            assert!(feeding.prey_pct.1 <= limit, "{key}: the share of {stage} within the hard limit");
            let (mass, grams) = (feeding.stage_mass_g.unwrap(), feeding.prey_g.unwrap());
            for (mass_g, pct, prey_g) in [(mass.0, feeding.prey_pct.0, grams.0), (mass.1, feeding.prey_pct.1, grams.1)]
            {
                let off = (mass_g * pct / 100.0 - prey_g).abs();
                assert!(off <= 0.06 + 0.06 * prey_g, "{key}: {prey_g} g is not {pct} % of {mass_g} g ({stage})");
            }
        }
        for pair in profile.refusal_alert_d.by_stage.iter().collect::<Vec<_>>().windows(2) {
            assert!(pair[0].1.low <= pair[1].1.low, "{key}: alert of {}", pair[1].0);
        }
        for pair in profile.shed.interval_d.iter().collect::<Vec<_>>().windows(2) {
            assert!(first(pair[0].1).low <= first(pair[1].1).low, "{key}: sheds of {}", pair[1].0);
        }
    }
}

/// An outside check: the Austrian ordinance (2. Tierhaltungsverordnung, BGBl. II Nr. 486/2004, Anlage 3, 2.2.23) asks
/// for the royal python 29 to 31 °C by day, locally to 35, and 23 to 25 by night.
#[test]
fn the_ball_python_agrees_with_the_austrian_ordinance() {
    let of = &library().profile("ball_python").unwrap().temperature;
    for (figures, low, high) in
        [(&of.warm_ambient_c, 29.0, 31.0), (&of.surface_absolute_max_c, 35.0, 35.0), (&of.night_min_c, 23.0, 23.0)]
    {
        let figure = first(figures);
        assert_eq!((figure.low, figure.high), (low, high));
        assert_eq!((figure.source.as_str(), figure.status), ("at-2thv", Status::Verified));
    }
    assert!(library().source("at-2thv").unwrap().cite.contains("486/2004"));
}

#[test]
fn the_version_changes_with_the_data() {
    let version = |text: &str| Library::parse(&[("sources.toml", text)]).unwrap().version().to_owned();
    let (one, other) = ("[a]\ngrade = \"A\"\ncite = \"A\"\n", "[a]\ngrade = \"A\"\ncite = \"B\"\n");
    assert_eq!(version(one), version(one));
    assert_ne!(version(one), version(other));
}

#[test]
fn a_sign_of_a_grade_takes_what_it_leaves_out_from_any_grade() {
    let of = |grade: Option<&str>| {
        library().signs.iter().find(|row| row.sign == "open-mouth-breathing" && row.grade.as_deref() == grade)
    };
    let (any, slight) = (of(None).unwrap(), of(Some("slight")).unwrap());
    assert_eq!(any.severity.as_deref(), Some("urgent"));
    assert_eq!((slight.severity.as_deref(), &slight.code, &slight.says), (Some("vet"), &any.code, &any.says));
    assert_ne!(slight.does, any.does);
}
