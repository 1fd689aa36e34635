//! A keeper's own table: what is understood at once, what is asked, what is told as a fault.

#![expect(clippy::expect_used, clippy::panic, reason = "a helper of a test may end it")]

use records::facts::{Fact, Outcome, Prey, Sex};
use records::import::{
    About, Answers, DateOrder, Decimal, LengthUnit, MassUnit, MealMassIs, Meaning, NoMeal, TemperatureUnit, Understood,
    read, told,
};
use records::{Fault, Kind};
use rstest::rstest;
use units::Zone;

fn with(text: &str, answers: &Answers) -> Result<Understood, Vec<Fault>> {
    read("diary.csv", text.as_bytes(), answers, &Zone::none())
}

/// Answers for a table of one animal that names neither it nor its species.
fn of_one() -> Answers {
    Answers { animal: Some("Noor".into()), species: Some("Python regius".into()), ..Answers::default() }
}

fn understood(text: &str, answers: &Answers) -> Understood {
    match with(text, answers) {
        Ok(understood) => understood,
        Err(faults) => panic!("{}", faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")),
    }
}

/// What a table becomes, in words, with the line of each: «2 weighed 120 g on 2026-01-01».
fn becomes(text: &str, answers: &Answers) -> Vec<String> {
    let understood = understood(text, answers);
    let animals = understood.ready().unwrap_or_else(|questions| panic!("{questions:#?}"));
    let of_animal = |animal: &records::import::ImportedAnimal| {
        animal.facts.iter().map(|(line, fact)| format!("{line} {}", told(fact, &Zone::none()))).collect::<Vec<_>>()
    };
    animals.iter().flat_map(of_animal).collect()
}

/// What is asked about a table.
fn asked(text: &str, answers: &Answers) -> Vec<About> {
    let understood = understood(text, answers);
    assert!(
        understood.animals.is_empty() || understood.questions.is_empty(),
        "nothing is handed out before the answers"
    );
    understood.questions.into_iter().map(|question| question.about).collect()
}

fn faults(text: &str, answers: &Answers) -> Vec<String> {
    with(text, answers).expect_err("the table is faulty").iter().map(ToString::to_string).collect()
}

const LONG: &str = "\
animal,species,sex,hatched,date,mass_g,meal_g,event,temp_day,temp_night
Ash,Boa imperator,,2021-05-01,2022-01-03,210.5,,,,
Noor,Python regius,female,2020-07,2022-01-03,,38,,32,28
Noor,Python regius,female,2020-07,2022-01-10,1321,,shed,32,28
Noor,Python regius,,2020-07,2022-02-06,1247,,\"laid 4 eggs, all well\",,
";

#[test]
fn a_long_table_is_understood_without_a_question() {
    let understood = understood(LONG, &Answers::default());
    assert_eq!(understood.questions, []);
    assert_eq!((understood.encoding.as_str(), understood.delimiter, understood.rows), ("UTF-8", ',', 4));
    let meanings: Vec<Meaning> = understood.columns.iter().map(|column| column.meaning).collect();
    assert_eq!(
        meanings,
        [
            Meaning::Animal,
            Meaning::Species,
            Meaning::Sex,
            Meaning::Hatched,
            Meaning::Date,
            Meaning::Mass,
            Meaning::MealMass,
            Meaning::Event,
            Meaning::TemperatureDay,
            Meaning::TemperatureNight,
        ]
    );
    let animals = understood.ready().expect("no question is open");
    let [ash, noor] = animals else { panic!("{animals:?}") };
    assert_eq!((ash.name.as_str(), ash.animal.species.as_str(), ash.animal.sex), ("Ash", "Boa imperator", None));
    assert_eq!((noor.animal.sex, noor.animal.hatched), (Some(Sex::Female), Zone::none().read("2020-07")));
    assert_eq!(
        becomes(LONG, &Answers::default()),
        [
            "2 weighed 210.5 g on 2022-01-03",
            "3 warm air by day 32 °C on 2022-01-03",
            "3 warm air by night 28 °C on 2022-01-03",
            "3 prey of 38 g taken on 2022-01-03",
            "4 weighed 1321 g on 2022-01-10",
            "4 warm air by day 32 °C on 2022-01-10",
            "4 warm air by night 28 °C on 2022-01-10",
            "4 shed on 2022-01-10",
            "5 weighed 1247 g on 2022-02-06",
            "5 note «laid 4 eggs, all well» on 2022-02-06",
            "5 laid 4 on 2022-02-06",
        ]
    );
}

#[test]
fn what_was_understood_is_shown_row_by_row() {
    let understood = understood(LONG, &Answers::default());
    let first = understood.samples.first().expect("a sample");
    assert_eq!(first.line, 2);
    assert_eq!(first.cells.first().map(String::as_str), Some("Ash"));
    assert_eq!(first.becomes, ["Ash: Boa imperator, hatched 2021-05-01", "Ash: weighed 210.5 g on 2022-01-03"]);
    let unit = &understood.columns.iter().find(|column| column.header == "temp_day").expect("the column").because;
    assert_eq!(unit, "its header says `temp_day`; no unit is named; 28 fits °C alone");
}

#[test]
fn the_animals_of_a_table_become_cases_and_records() {
    let understood = understood(LONG, &Answers::default());
    let noor = understood.ready().expect("no question is open").get(1).expect("Noor");
    let case = noor.case(&Zone::none(), None);
    assert_eq!((case.timeline.weighings.len(), case.timeline.sheds.len(), case.timeline.readings.len()), (2, 1, 4));
    assert_eq!(
        case.timeline.weighings.iter().map(|one| (one.key.index, one.key.line)).collect::<Vec<_>>(),
        [(0, Some(4)), (1, Some(5))]
    );
    let kinds: Vec<Kind> = noor.records().map(|fact| fact.kind()).take(2).collect();
    assert_eq!(kinds, [Kind::Animal, Kind::Reading]);
}

#[test]
fn a_table_of_one_animal_in_another_language_is_understood() {
    let text = "Datum;Uhrzeit;Körpergewicht (g);Futtertier;Anzahl;Ergebnis;Häutung;Luftfeuchte;Bemerkung\n\
                14.03.2025;19:30;120,5;Maus Springer;2;gefressen;;55 %;\"ruhig; warm\"\n\
                21.03.2025;;;Ratte Fuzzy;;verweigert;ja;;\n";
    assert_eq!(
        becomes(text, &of_one()),
        [
            "2 weighed 120.5 g on 2025-03-14T19:30",
            "2 warm air 55 % humidity on 2025-03-14T19:30",
            "2 2 × mouse hopper taken on 2025-03-14T19:30",
            "2 note «ruhig; warm» on 2025-03-14T19:30",
            "3 shed on 2025-03-21",
            "3 rat fuzzy refused on 2025-03-21",
        ]
    );
}

#[test]
fn a_table_with_a_row_for_each_figure_is_understood() {
    let text = "Snake,Type,When,Value,Unit\n\
                Noor,Weight,2025-01-05,250,g\n\
                Noor,Feeding,2025-01-06,20,g\n\
                Noor,Feeding,2025-01-13,rat pup,\n\
                Noor,Shed,2025-01-20,,\n\
                Noor,Length,2025-01-21,30,in\n\
                Noor,Basking temp,2025-01-21,89.6,F\n\
                Noor,Mood,2025-01-22,calm,\n";
    let answers = Answers { species: Some("Python regius".into()), ..Answers::default() };
    assert_eq!(
        becomes(text, &answers),
        [
            "2 weighed 250 g on 2025-01-05",
            "3 prey of 20 g taken on 2025-01-06",
            "4 rat pup taken on 2025-01-13",
            "5 shed on 2025-01-20",
            "6 total length 76.2 cm on 2025-01-21",
            "7 warm surface 32 °C on 2025-01-21",
            "8 note «Mood: calm» on 2025-01-22",
        ]
    );
}

#[test]
fn details_beside_a_kind_are_read_by_the_kind() {
    let text = "snake,date,event,details\n\
                Noor,05-Jan-24,Fed,1 small rat\n\
                Noor,12-Jan-24,Fed,refused\n\
                Noor,14-Jan-24,Weight,1240 g\n\
                Noor,20-Jan-24,Shed,in one piece\n\
                Noor,21-Jan-24,Shed,stuck on the tail\n";
    let answers = Answers { species: Some("Python regius".into()), ..Answers::default() };
    assert_eq!(
        becomes(text, &answers),
        [
            "2 rat small taken on 2024-01-05",
            "3 prey refused on 2024-01-12",
            "4 weighed 1240 g on 2024-01-14",
            "5 shed in one piece on 2024-01-20",
            "6 shed on 2024-01-21",
            "6 note «stuck on the tail» on 2024-01-21",
        ]
    );
}

#[test]
fn a_row_is_shown_as_it_stands() {
    let text = "date,event,details\n2025-01-05,Warm side,89.6 F\n2025-01-06,Weight,1200 g\n";
    let understood = understood(text, &of_one());
    let first = understood.samples.first().expect("a sample");
    assert_eq!(first.cells, ["2025-01-05", "Warm side", "89.6 F"]);
    assert_eq!(first.becomes, ["Noor: Python regius", "Noor: warm air 32 °C on 2025-01-05"]);
}

#[test]
fn a_note_of_a_refusal_is_not_passed_over() {
    let text = "date,event,notes\n2025-01-05,fed,refused\n2025-01-12,fed,calm\n";
    assert_eq!(
        becomes(text, &of_one()),
        [
            "2 prey refused on 2025-01-05",
            "2 note «refused» on 2025-01-05",
            "3 prey taken on 2025-01-12",
            "3 note «calm» on 2025-01-12",
        ]
    );
    for text in ["date,prey\n2025-01-05,rat pup - didn't eat\n", "date,event\n2025-01-05,\"fed, no luck\"\n"] {
        assert_eq!(asked(text, &of_one()), [About::Outcome], "{text}");
    }
    let longer = text.replace("refused", "refused at first");
    let open = understood(&longer, &of_one());
    let question = open.questions.first().expect("it is asked");
    assert_eq!(
        (&question.about, question.example.as_str()),
        (&About::Outcome, "diary.csv, line 2, column notes: `refused at first`")
    );
    let taken = Answers { outcome: Some(Outcome::Taken), ..of_one() };
    assert_eq!(becomes(&longer, &taken).first().map(String::as_str), Some("2 prey taken on 2025-01-05"));
}

#[test]
fn rows_of_different_kinds_are_told_apart() {
    let text = "date,kind,mass_g,what was offered\n\
                2025-01-05,weighing,250,\n\
                2025-01-06,feeding,,2 x mouse hopper f/t\n\
                2025-01-07,refused,,\n\
                2025-01-08,in blue,,\n\
                2025-01-09,full clean,,\n\
                2025-01-10,\"fed, shed\",,\n\
                2025-01-11,looked cross,,\n";
    let understood = understood(text, &of_one());
    assert_eq!(
        understood.questions.iter().map(|one| &one.about).collect::<Vec<_>>(),
        [&About::Outcome],
        "offered is not eaten"
    );
    let answers = Answers { outcome: Some(Outcome::Taken), ..of_one() };
    assert_eq!(
        becomes(text, &answers),
        [
            "2 weighed 250 g on 2025-01-05",
            "3 2 × mouse hopper (frozen thawed) taken on 2025-01-06",
            "4 prey refused on 2025-01-07",
            "5 in blue on 2025-01-08",
            "6 cleaned (full) on 2025-01-09",
            "7 prey taken on 2025-01-10",
            "7 shed on 2025-01-10",
            "8 note «looked cross» on 2025-01-11",
        ]
    );
}

#[test]
fn a_meal_that_came_up_is_the_one_before() {
    let text = "date,event\n2025-01-05,fed\n2025-01-12,fed\n2025-01-15,regurgitated\n";
    assert_eq!(
        becomes(text, &of_one()),
        ["2 prey taken on 2025-01-05", "3 prey regurgitated (up on 2025-01-15) on 2025-01-12"]
    );
}

#[test]
fn sheds_may_be_dates_words_or_marks() {
    let text = "date,shed,in blue\n2025-01-05,,yes\n2025-01-14,one piece,\n2025-02-14,x,no\n2025-03-14,2025-03-12,\n\
                2025-05-01,\"yes, stuck on the tail\",\n2025-07-01,yes - complete,\n";
    assert_eq!(
        becomes(text, &of_one()),
        [
            "2 in blue on 2025-01-05",
            "3 shed in one piece on 2025-01-14",
            "4 shed on 2025-02-14",
            "5 shed on 2025-03-12",
            "6 note «shed: yes, stuck on the tail» on 2025-05-01",
            "6 shed on 2025-05-01",
            "7 shed in one piece on 2025-07-01",
        ]
    );
}

#[test]
fn midnight_in_every_row_is_no_hour() {
    let text = "date,mass_g\n2025-01-05 00:00:00,120\n2025-01-12 00:00:00,122\n2025-01-19 00:00:00,124\n";
    assert_eq!(becomes(text, &of_one()).last().map(String::as_str), Some("4 weighed 124 g on 2025-01-19"));
    let mixed = text.replace("2025-01-12 00:00", "2025-01-12 18:30");
    assert_eq!(becomes(&mixed, &of_one()).last().map(String::as_str), Some("4 weighed 124 g on 2025-01-19T00:00"));
}

#[test]
fn a_day_of_something_else_is_not_taken_for_the_date() {
    let text = "name,species,last fed,weight (g)\nNoor,Python regius,2025-01-05,1200\n";
    assert_eq!(asked(text, &Answers::default()), [About::Column("last fed".into())]);
    let told = Answers { columns: vec![("last fed".into(), Meaning::Ignored)], ..Answers::default() };
    assert_eq!(
        faults(text, &told),
        [
            "no date says when `1200` was written down\n where: diary.csv, line 2, column weight (g)\n  mend: add a column \
          with the date of each row"
        ]
    );
}

#[test]
fn a_number_of_eggs_is_not_a_number_of_prey() {
    let text = "date,event,count\n2025-01-05,laid,5\n2025-01-12,fed,2\n";
    assert_eq!(asked(text, &of_one()), [About::Column("count".into())]);
}

#[test]
fn a_list_of_animals_needs_no_date() {
    let text = "ID,Name,Species,Sex,Hatch date,Acquired\n1,Noor,Python regius,0.1,Jun 2019,3/14/2020\n2,Ash,Boa imperator,M,2020,12/5/2021\n";
    let understood = understood(text, &Answers::default());
    let animals = understood.ready().expect("no question is open");
    let who: Vec<String> = animals.iter().map(|one| told(&Fact::Animal(one.animal.clone()), &Zone::none())).collect();
    assert_eq!(
        who,
        [
            "Python regius, female, hatched 2019-06, arrived 2020-03-14",
            "Boa imperator, male, hatched 2020, arrived 2021-12-05"
        ]
    );
    assert_eq!(
        understood.columns.first().map(|one| one.meaning),
        Some(Meaning::Ignored),
        "the number goes with the name"
    );
}

#[test]
fn a_guessed_mass_is_kept_as_a_guess() {
    assert_eq!(becomes("date,mass\n2025-01-05,~120 g\n", &of_one()), ["2 about 120 g, guessed on 2025-01-05"]);
}

#[test]
fn what_is_no_row_is_left_out_and_told() {
    let text =
        "Diary of Noor,\n# kept by hand,\ndate,mass_g\n2025-01-05,120\n,\n\ndate,mass_g\n2025-01-12,122\nTotal,242\n";
    let understood = understood(text, &of_one());
    let left: Vec<(u32, &str)> = understood.left_out.iter().map(|one| (one.line, one.because.as_str())).collect();
    assert_eq!(
        left,
        [(1, "it stands above the header"), (2, "a comment"), (7, "the header, repeated"), (9, "a total")]
    );
    assert_eq!((understood.rows, understood.blank_rows), (2, 2));
}

#[rstest]
#[case::utf_8(text_of("", encoding_rs::UTF_8), "UTF-8")]
#[case::utf_8_with_a_mark(text_of("\u{feff}", encoding_rs::UTF_8), "UTF-8")]
#[case::latin(text_of("", encoding_rs::WINDOWS_1252), "windows-1252")]
#[case::utf_16(two_bytes("\u{feff}", u16::to_le_bytes), "UTF-16LE")]
#[case::utf_16_without_a_mark(two_bytes("", u16::to_be_bytes), "UTF-16BE")]
fn every_common_encoding_is_read(#[case] bytes: Vec<u8>, #[case] encoding: &str) {
    let understood = read("diary.csv", &bytes, &of_one(), &Zone::none()).expect("the table reads");
    assert_eq!((understood.encoding.as_str(), understood.questions.len()), (encoding, 0));
    let facts = &understood.animals.first().expect("an animal").facts;
    assert_eq!(
        facts.iter().map(|(_, fact)| told(fact, &Zone::none())).collect::<Vec<_>>(),
        ["weighed 120.5 g on 2025-03-14", "note «schön gehäutet, größer» on 2025-03-14",]
    );
}

const GERMAN: &str = "Datum;Gewicht (g);Bemerkung\r\n14.03.2025;120,5;schön gehäutet, größer\r\n";

fn text_of(mark: &str, encoding: &'static encoding_rs::Encoding) -> Vec<u8> {
    encoding.encode(&format!("{mark}{GERMAN}")).0.into_owned()
}

fn two_bytes(mark: &str, order: fn(u16) -> [u8; 2]) -> Vec<u8> {
    format!("{mark}{GERMAN}").encode_utf16().flat_map(order).collect()
}

#[test]
fn letters_that_may_be_read_in_two_ways_are_asked() {
    let text = "Дата;Вес (g);заметка\n2025-03-14;120;хорошо поел, спокойная змея\n";
    let (bytes, ..) = encoding_rs::WINDOWS_1251.encode(text);
    let open = read("diary.csv", &bytes, &of_one(), &Zone::none()).expect("the table reads");
    let question = open.questions.iter().find(|one| one.about == About::Encoding).expect("it is asked");
    assert_eq!(question.choices, ["windows-1251", "windows-1252"]);
    let answers = Answers {
        encoding: Some("windows-1251".into()),
        columns: vec![("Вес (g)".into(), Meaning::Mass), ("Дата".into(), Meaning::Date)],
        ..of_one()
    };
    let understood = read("diary.csv", &bytes, &answers, &Zone::none()).expect("the table reads");
    assert_eq!(understood.questions, []);
    assert_eq!(understood.animals.first().map(|one| one.facts.len()), Some(2));
}

#[test]
fn the_order_of_day_and_month_is_asked_where_no_row_settles_it() {
    let text = "date,mass_g\n03/04/2025,120\n05/05/2025,122\n";
    let open = understood(text, &of_one());
    let question = open.questions.first().expect("it is asked");
    assert_eq!(question.about, About::DateOrder);
    assert_eq!(question.choices, ["day-first", "month-first"]);
    assert_eq!(
        question.example,
        "diary.csv, line 2, column date: `03/04/2025` is 2025-04-03 (day-first) or 2025-03-04 (month-first)"
    );
    assert!(open.ready().is_err() && open.animals.is_empty());
    let day = Answers { date_order: Some(DateOrder::DayFirst), ..of_one() };
    assert_eq!(becomes(text, &day), ["2 weighed 120 g on 2025-04-03", "3 weighed 122 g on 2025-05-05"]);
    let month = Answers { date_order: Some(DateOrder::MonthFirst), ..of_one() };
    assert_eq!(becomes(text, &month), ["2 weighed 120 g on 2025-03-04", "3 weighed 122 g on 2025-05-05"]);
}

#[test]
fn one_day_above_the_twelfth_settles_the_order() {
    assert_eq!(
        becomes("date,mass_g\n03/04/2025,120\n14/04/2025,122\n", &of_one()).first().map(String::as_str),
        Some("2 weighed 120 g on 2025-04-03")
    );
    assert_eq!(
        becomes("date,mass_g\n03/04/25,120\n04/14/25,122\n", &of_one()).first().map(String::as_str),
        Some("2 weighed 120 g on 2025-03-04")
    );
    assert_eq!(becomes("date,mass_g\n05/05/2025,120\n", &of_one()), ["2 weighed 120 g on 2025-05-05"]);
}

#[test]
fn dates_in_both_orders_are_a_fault() {
    assert_eq!(
        faults("date,mass_g\n13/04/2025,120\n04/14/2025,122\n", &of_one()),
        [
            "the dates are written in both orders: day first in line 2, month first in line 3\n where: diary.csv, line 3, \
          column date\n  mend: write all dates in one order, best as 2026-03-14"
        ]
    );
    let day = Answers { date_order: Some(DateOrder::DayFirst), ..of_one() };
    assert_eq!(
        faults("date,mass_g\n04/14/2025,122\n", &day),
        [
            "`04/14/2025` cannot be read with the day first\n where: diary.csv, line 2, column date\n  mend: mend the date, \
          or answer the other order"
        ]
    );
}

#[test]
fn the_decimal_sign_is_asked_where_no_figure_settles_it() {
    let text = "date;mass_g\n2025-01-05;1,234\n2025-01-12;1,250\n";
    assert_eq!(asked(text, &of_one()), [About::Decimal]);
    let comma = Answers { decimal: Some(Decimal::Comma), ..of_one() };
    assert_eq!(becomes(text, &comma).first().map(String::as_str), Some("2 weighed 1.234 g on 2025-01-05"));
    let point = Answers { decimal: Some(Decimal::Point), ..of_one() };
    assert_eq!(becomes(text, &point).first().map(String::as_str), Some("2 weighed 1234 g on 2025-01-05"));
    let settled = "date;mass_g\n2025-01-05;1,234\n2025-01-12;99,5\n";
    assert_eq!(becomes(settled, &of_one()).first().map(String::as_str), Some("2 weighed 1.234 g on 2025-01-05"));
}

#[test]
fn a_mass_without_a_unit_is_asked_unless_its_size_settles_it() {
    let text = "date,mass\n2025-01-05,12\n2025-01-12,14\n";
    assert_eq!(asked(text, &of_one()), [About::MassUnit]);
    let ounces = Answers { mass_unit: Some(MassUnit::Ounces), ..of_one() };
    assert_eq!(becomes(text, &ounces).first().map(String::as_str), Some("2 weighed 340.194 g on 2025-01-05"));
    let by_column = Answers { units: vec![("mass".into(), "lb".into())], ..of_one() };
    assert_eq!(becomes(text, &by_column).first().map(String::as_str), Some("2 weighed 5443.108 g on 2025-01-05"));
    let settled = "date,mass\n2025-01-05,12\n2025-01-12,1864\n";
    let understood = understood(settled, &of_one());
    assert_eq!(
        understood.columns.get(1).map(|one| (one.unit.as_deref(), one.because.as_str())),
        Some((Some("g"), "its header says `mass`; no unit is named; 1864 fits g alone"))
    );
}

#[test]
fn a_length_without_a_unit_is_asked() {
    let text = "date,length,girth\n2025-01-05,40,4\n";
    assert_eq!(asked(text, &of_one()), [About::LengthUnit]);
    let inches = Answers { length_unit: Some(LengthUnit::Inches), ..of_one() };
    assert_eq!(becomes(text, &inches), ["2 total length 101.6 cm, girth 10.16 cm on 2025-01-05"]);
}

#[test]
fn a_temperature_without_a_unit_is_asked_unless_its_size_settles_it() {
    let text = "date,temp day,temp night\n2025-01-05,45,40\n";
    assert_eq!(asked(text, &of_one()), [About::TemperatureUnit]);
    let fahrenheit = Answers { temperature_unit: Some(TemperatureUnit::Fahrenheit), ..of_one() };
    assert_eq!(
        becomes(text, &fahrenheit).first().map(String::as_str),
        Some("2 warm air by day 7.222 °C on 2025-01-05")
    );
    assert_eq!(becomes("date,temp day\n2025-01-05,86\n", &of_one()), ["2 warm air by day 30 °C on 2025-01-05"]);
    assert_eq!(becomes("date,temp day\n2025-01-05,31\n", &of_one()), ["2 warm air by day 31 °C on 2025-01-05"]);
    assert_eq!(
        asked("date,temp day\n2025-01-05,86\n2025-01-06,31\n", &of_one()),
        [About::TemperatureUnit],
        "both at once"
    );
}

#[test]
fn a_column_whose_header_says_nothing_is_asked_or_kept_as_notes() {
    let text = "date,mass_g,zzz,colour,mood\n2025-01-05,120,7,dark,calm\n2025-01-12,122,9,dark,calm\n\
                2025-01-19,,,,cross\n";
    let open = understood(text, &of_one());
    let question = open.questions.first().expect("it is asked");
    assert_eq!(question.about, About::Column("zzz".into()));
    assert_eq!(question.example, "`7` in line 2");
    let answers = Answers { columns: vec![("zzz".into(), Meaning::Ignored)], ..of_one() };
    assert_eq!(
        becomes(text, &answers),
        [
            "2 weighed 120 g on 2025-01-05",
            "2 note «mood: calm» on 2025-01-05",
            "2 note «colour: dark» on 2025-01-05",
            "3 weighed 122 g on 2025-01-12",
            "3 note «mood: calm» on 2025-01-12",
            "4 note «mood: cross» on 2025-01-19",
        ],
        "what is the same in all rows is kept once"
    );
}

#[test]
fn a_weight_that_always_stands_beside_prey_may_be_the_preys() {
    let text = "date,prey,weight (g),eaten\n2025-01-05,rat pup,25,yes\n2025-01-12,rat pup,27,no\n";
    let open = understood(text, &of_one());
    let question = open.questions.first().expect("it is asked");
    assert_eq!(
        (&question.about, question.choices.join(" ")),
        (&About::Column("weight (g)".into()), "mass meal-mass".into())
    );
    let prey = Answers { columns: vec![("weight (g)".into(), Meaning::MealMass)], ..of_one() };
    assert_eq!(
        becomes(text, &prey),
        ["2 rat pup of 25 g taken on 2025-01-05", "3 rat pup of 27 g refused on 2025-01-12"]
    );
}

#[test]
fn a_row_without_an_animal_may_be_about_the_one_above() {
    let text = "animal,species,date,mass_g\nNoor,Python regius,2025-01-05,120\n,,2025-01-12,122\n";
    assert_eq!(asked(text, &Answers::default()), [About::FillDown]);
    let down = Answers { fill_down: Some(true), ..Answers::default() };
    assert_eq!(becomes(text, &down).len(), 2);
    let not = Answers { fill_down: Some(false), ..Answers::default() };
    assert_eq!(
        faults(text, &not),
        ["the row names no animal\n where: diary.csv, line 3, column animal\n  mend: name the animal in each row"]
    );
}

#[test]
fn what_became_of_a_meal_is_asked_where_a_column_for_it_is_empty() {
    let text = "date,prey,outcome\n2025-01-05,rat pup,refused\n2025-01-12,rat pup,\n";
    assert_eq!(asked(text, &of_one()), [About::Outcome]);
    let unseen = Answers { outcome: Some(Outcome::Unseen), ..of_one() };
    assert_eq!(becomes(text, &unseen), ["2 rat pup refused on 2025-01-05", "3 rat pup unseen on 2025-01-12"]);
    let only_refusals = "date,prey,refused\n2025-01-05,rat pup,x\n2025-01-12,rat pup,\n";
    assert_eq!(becomes(only_refusals, &of_one()), ["2 rat pup refused on 2025-01-05", "3 rat pup taken on 2025-01-12"]);
}

#[test]
fn the_mass_of_a_meal_of_several_items_is_asked() {
    let text = "date,prey,count,meal_g\n2025-01-05,mouse hopper,2,20\n";
    assert_eq!(asked(text, &of_one()), [About::MealMass]);
    let total = Answers { meal_mass_is: Some(MealMassIs::Total), ..of_one() };
    assert_eq!(becomes(text, &total), ["2 2 × mouse hopper of 10 g taken on 2025-01-05"]);
    let each = "date,prey\n2025-01-05,2 x 10 g mouse hopper\n";
    assert_eq!(becomes(each, &of_one()), ["2 2 × mouse hopper of 10 g taken on 2025-01-05"]);
}

#[test]
fn a_no_under_a_meals_column_is_asked() {
    let text = "date,fed\n2025-01-05,yes\n2025-01-12,no\n";
    assert_eq!(asked(text, &of_one()), [About::NoMeal]);
    let refused = Answers { no_meal: Some(NoMeal::Refused), ..of_one() };
    assert_eq!(becomes(text, &refused), ["2 prey taken on 2025-01-05", "3 prey refused on 2025-01-12"]);
    let nothing = Answers { no_meal: Some(NoMeal::NotOffered), ..of_one() };
    assert_eq!(becomes(text, &nothing), ["2 prey taken on 2025-01-05"]);
}

#[test]
fn the_animal_and_its_species_are_asked_where_the_table_names_none() {
    let open = understood("date,mass_g\n2025-01-05,120\n", &Answers::default());
    let told: Vec<(&About, &[String])> =
        open.questions.iter().map(|one| (&one.about, one.choices.as_slice())).collect();
    assert_eq!(told, [(&About::Animal, ["diary".to_owned()].as_slice()), (&About::Species, [].as_slice())]);
}

#[test]
fn all_questions_are_asked_at_once() {
    let text = "when,weight,prey,eaten,zzz,length\n03/04/2025,\"1,234\",rat pup,,7,40\n";
    assert_eq!(
        asked(text, &Answers::default()),
        [
            About::Column("zzz".into()),
            About::Column("weight".into()),
            About::Decimal,
            About::DateOrder,
            About::LengthUnit,
            About::Outcome,
            About::Animal,
            About::Species,
        ]
    );
}

#[test]
fn words_that_are_not_understood_are_asked_where_their_header_is() {
    let text = "date,food,activity\n2025-01-05,crickets,yoga\n2025-01-12,crickets,yoga\n";
    let open = understood(text, &of_one());
    let asked: Vec<(&About, String)> = open.questions.iter().map(|one| (&one.about, one.choices.join(" "))).collect();
    assert_eq!(
        asked,
        [
            (&About::Column("food".into()), "outcome prey note ignored".into()),
            (&About::Column("activity".into()), "event note ignored".into()),
        ]
    );
    let told =
        Answers { columns: vec![("food".into(), Meaning::Note), ("activity".into(), Meaning::Ignored)], ..of_one() };
    assert_eq!(becomes(text, &told), ["2 note «crickets» on 2025-01-05", "3 note «crickets» on 2025-01-12"]);
}

#[test]
fn an_unreadable_date_is_told_with_line_and_column_and_nothing_is_kept() {
    let mut text = "date,mass_g\n".to_owned();
    for row in 2..=60 {
        text.push_str(if row == 57 { "2025-02-30,120\n" } else { "2025-02-03,120\n" });
    }
    assert_eq!(
        faults(&text, &of_one()),
        ["`2025-02-30` is not a date\n where: diary.csv, line 57, column date\n  mend: write it as 2026-03-14, or \
          2026-03-14 19:30"]
    );
}

#[test]
fn several_faults_are_told_at_once() {
    assert_eq!(
        faults("date,mass_g,sex\nsoon,120,\n2025-01-05,heavy,\n", &of_one()),
        [
            "`soon` is not a date\n where: diary.csv, line 2, column date\n  mend: write it as 2026-03-14, or 2026-03-14 \
             19:30",
            "`heavy` is not a number\n where: diary.csv, line 3, column mass_g\n  mend: write digits with a unit or \
             without, and words in a column of notes",
        ]
    );
    assert_eq!(
        faults("date,mass_g,sex\n2025-01-05,0,girlish\n2025-01-12,300000,f\n", &of_one()),
        [
            "`girlish` is no sex\n where: diary.csv, line 2, column sex\n  mend: write female, male or unknown",
            "`mass_g` cannot be 0\n where: diary.csv, line 2, column mass_g\n  mend: give it in grams, between 0.1 and \
             250000; leave it out when it is not known",
            "`mass_g` cannot be 300000\n where: diary.csv, line 3, column mass_g\n  mend: give it in grams, between 0.1 \
             and 250000; leave it out when it is not known",
        ]
    );
}

#[rstest]
#[case("", "the file is empty")]
#[case(" \n\n", "the file is empty")]
#[case("date,mass_g\n", "the table holds a header and no rows")]
#[case("just some words\nand more words\n", "the file holds no table: no sign parts its lines into cells")]
#[case("date,mass_g\n2025-01-05,\"120\n", "a quote is opened and never closed")]
#[case("date,mass_g\n2025-01-05\n", "the line holds 1 cells, the header 2")]
#[case("date,mass_g\n2025-01-05,12,5\n", "the line holds 3 cells, the header 2")]
#[case("mass_g,note\n120,x\n", "no date says when `120` was written down")]
#[case("date,mass_g\n45000,120\n", "`45000` is not a date")]
#[case("date,prey,outcome\n2025-01-05,rat pup,takken\n", "`takken` is no outcome of a meal")]
#[case("date,event,eaten\n2025-01-05,refused,yes\n", "the row says that the meal was taken and that it was refused")]
#[case("date,mass_g\n2025-01-05,12 cm\n", "`12 cm` is not a mass")]
#[case("date,time,mass_g\n2025-01-05,noonish,12\n2025-01-06,12:00,12\n", "`noonish` is not a time of the clock")]
#[case("date,mass_g\n2025-01,12\n2025-01-06,12\n", "`2025-01` is not a day")]
fn a_faulty_table_is_told(#[case] text: &str, #[case] what: &str) {
    let faults = with(text, &of_one()).expect_err("the table is faulty");
    assert_eq!(faults.first().map(|fault| fault.what.as_str()), Some(what), "{faults:#?}");
    assert!(faults.iter().all(|fault| fault.place.starts_with("diary.csv") && !fault.mend.is_empty()));
}

#[test]
fn what_is_no_text_is_told() {
    for (bytes, what) in [
        (b"PK\x03\x04rest".to_vec(), "the file is a workbook or an archive, not a table of text"),
        (b"date,mass\n2025-01-05,\x00\x01\n".to_vec(), "the file is not a table of text"),
        (vec![b','; records::import::MOST_BYTES + 1], "the file holds 50 MB, more than the 50 MB that are read"),
        (
            [b"a".repeat(3), b",".repeat(1_000_000)].concat(),
            "the line holds 1000001 cells, more than the 512 that are read",
        ),
    ] {
        let faults = read("diary.csv", &bytes, &of_one(), &Zone::none()).expect_err("no table");
        assert_eq!(faults.first().map(|fault| fault.what.as_str()), Some(what));
    }
}

#[test]
fn two_rows_that_disagree_about_an_animal_are_a_fault() {
    let text =
        "animal,species,sex,date,mass_g\nNoor,Python regius,f,2025-01-05,120\nNoor,Boa imperator,m,2025-01-12,122\n";
    assert_eq!(
        faults(text, &Answers::default()),
        [
            "the species of `Noor` is `Boa imperator` here and `Python regius` in line 2\n where: diary.csv, line 3, \
             column species\n  mend: mend one of the two",
            "the sex of `Noor` is `male` here and `female` in line 2\n where: diary.csv, line 3, column sex\n  mend: mend \
             one of the two",
        ]
    );
}

#[test]
fn an_answer_about_a_column_that_is_not_there_names_the_nearest() {
    let answers = Answers { columns: vec![("wieght".into(), Meaning::Mass)], ..of_one() };
    assert_eq!(
        faults("date,weight\n2025-01-05,120\n", &answers),
        ["the table has no column `wieght`\n where: diary.csv\n  mend: did you mean `weight`?"]
    );
}

#[test]
fn what_looks_odd_is_told_beside_the_rest() {
    let text = "date,hatched,mass_g,meal_g\n\
                2025-01-05,2025-01-10,120,\n\
                2025-01-12,2025-01-10,1200,\n\
                2025-01-13,2025-01-10,,1300\n\
                2025-01-13,2025-01-10,,1300\n";
    let understood = understood(text, &of_one());
    let doubts: Vec<String> =
        understood.doubts.iter().map(|doubt| format!("{} ({})", doubt.what, doubt.place)).collect();
    assert_eq!(
        doubts,
        [
            "a meal of 1300 g is heavier than `Noor` was (1200 g, line 3) (diary.csv, line 4)",
            "a meal of 1300 g is heavier than `Noor` was (1200 g, line 3) (diary.csv, line 5)",
            "`Noor` weighs 1200 g, and weighed 120 g on 2025-01-05 (diary.csv, line 3)",
            "2025-01-05 is before `Noor` hatched (2025-01-10) (diary.csv, line 2)",
            "the same meal of `Noor` stands in line 4 (diary.csv, line 5)",
        ]
    );
    assert_eq!(understood.animals.first().map(|one| one.facts.len()), Some(4), "all of it is there nevertheless");
}

#[test]
fn the_same_file_has_the_same_fingerprint() {
    let one = understood(LONG, &Answers::default()).fingerprint;
    assert_eq!((one.len(), &one), (32, &understood(LONG, &of_one()).fingerprint));
    assert_ne!(one, understood(&format!("{LONG}\n"), &Answers::default()).fingerprint);
}

#[test]
fn the_hour_is_read_in_the_zone_of_the_house() {
    let zone = Zone::named("Europe/Lisbon").expect("Lisbon has a zone");
    let text = "date,time,meal_g\n2025-07-05,7:30 pm,12\n";
    let understood = read("diary.csv", text.as_bytes(), &of_one(), &zone).expect("the table reads");
    let (_, fact) = understood.animals.first().and_then(|one| one.facts.first()).expect("a meal");
    assert_eq!(fact.when().map(|when| zone.write_when(when)).as_deref(), Some("2025-07-05T19:30+01:00"));
    assert!(matches!(fact, Fact::Meal(meal) if meal.prey.is_none_or(|prey| prey == Prey::Other)));
}
