//! Published yields and rates beside what the room says, nothing tuned. Run
//! with `--nocapture` for the table.
//!
//! A study is met where its figure, or the range it gives, overlaps the
//! interval of 95 %. Those that are not are named with the reason; the list
//! must be exact, so that it cannot hide a miss nor grow stale.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod table;

use ferrogall::bench::Lot;
use ferrogall::extraction::*;
use ferrogall::quantity::*;
use table::{Row, number, table};
use uom::si::time::minute;

/// Misses, and why.
const KNOWN: [(&str, &str); 7] = [
    (
        "Farakte 2016, 0.33 mm",
        "fine tea is held up by wetting and the film of water, not by diffusion: FirstOrderExtraction has both",
    ),
    (
        "Fernando & Soysa 2015",
        "wetting and film again, and the grain (1 mm) is assumed: the slow end is 6.8 min",
    ),
    (
        "Lakenbrink 2000",
        "share of a total taken with aqueous methanol, which may dissolve what water does not; other tea efficiencies are 0.86 to 0.98",
    ),
    (
        "Pomegranate 2016",
        "in half ethanol, and how it was strained is not said; a marc that drains by gravity keeps liquor, which the second wash has",
    ),
    (
        "Diaz Hidalgo 2018 Montpellier",
        "19 g/L of gallic acid is beyond the free acid of galls in so much water: part of the tannin had been hydrolysed in the three days or while boiling down, for which no rate is published",
    ),
    (
        "Diaz Hidalgo 2018 Madrid",
        "white wine; less than the free acid of the catalogue: wine keeps it back or eats it, or these galls held less",
    ),
    ("Eusman 1998", "a claim, not measured"),
];

struct Line {
    name: &'static str,
    unit: &'static str,
    published: (f64, f64),
    predicted: Span<f64>,
}

impl Line {
    fn met(&self) -> bool {
        // The middle of what was published, not a touch of its edge.
        let middle = 0.5 * (self.published.0 + self.published.1);
        (self.predicted.low..=self.predicted.high).contains(&middle)
    }
}

fn row<'a>(rows: &'a [Row], study: &str, size: &str) -> &'a Row {
    rows.iter()
        .find(|r| r["study"] == study && r["particle_size_mm"].starts_with(size))
        .unwrap_or_else(|| panic!("{study}"))
}

/// "19 (4)" is a value with its standard deviation, taken twice; "35-55" a range; else one figure.
fn published(row: &Row) -> (f64, f64) {
    let text = row["value"].trim_start_matches('~');
    if let Some((value, u)) = text.trim_end_matches(')').split_once(" (") {
        let (value, u): (f64, f64) = (value.parse().unwrap(), u.parse().unwrap());
        return (value - 2.0 * u, value + 2.0 * u);
    }
    if let Some((low, high)) = text.split_once('-') {
        return (low.parse().unwrap(), high.parse().unwrap());
    }
    let value = text.parse().unwrap();
    (value, value)
}

/// Liquid over plant, as printed.
fn ratio(row: &Row) -> f64 {
    number(row, "liquid_solid_ratio").unwrap()
}

fn lot(id: &str) -> Lot {
    Lot::of(id).unwrap().build().unwrap()
}

fn powder(mm: f64) -> Grain {
    Grain::powder().measuring(millimeters(mm)).unwrap()
}

fn minutes(m: f64) -> Time {
    Time::new::<minute>(m)
}

/// One wash of a kilogram of dry plant, all of the liquor counted.
fn soaked(id: &str, grain: Grain, ratio: f64, c: f64, time: Time) -> Process {
    let dry = Lot::of(id)
        .unwrap()
        .moisture(0.0, 0.0)
        .unwrap()
        .build()
        .unwrap();
    let wash = Wash::per_gram(ratio, celsius(c), time)
        .unwrap()
        .strained(Straining::Nothing)
        .unwrap();
    Process::new(&dry, kilograms(1.0), grain)
        .unwrap()
        .wash(wash)
        .unwrap()
}

fn map<T>(s: &Span<T>, f: impl Fn(&T) -> f64) -> Span<f64> {
    Span {
        low: f(&s.low),
        typical: f(&s.typical),
        high: f(&s.high),
    }
}

/// g of tannin from 1 kg of dry plant.
fn tannin(process: &Process) -> Span<f64> {
    map(&process.run().unwrap().all.tannin, |m| m.in_grams())
}

fn share(process: &Process) -> Span<f64> {
    map(&process.run().unwrap().all.share, |s| s.as_percent())
}

fn lines(rows: &[Row]) -> Vec<Line> {
    let mut out = Vec::new();
    let mut put = |name, unit, row: &Row, predicted| {
        out.push(Line {
            name,
            unit,
            published: published(row),
            predicted,
        });
    };

    // Time to 1 − 1/e of what will come, as a rate.
    let rate = |mm: f64| {
        let grain = Grain::new(Shape::Sphere, millimeters(mm), Share::ZERO).unwrap();
        let t = Process::new(&lot("black_tea_leaf"), grams(1.0), grain)
            .unwrap()
            .time_to(Share::new(1.0 - (-1.0_f64).exp()).unwrap(), celsius(60.0))
            .unwrap();
        let k = |t: &Time| 1.0 / t.get::<minute>();
        Span {
            low: k(&t.high),
            typical: k(&t.typical),
            high: k(&t.low),
        }
    };
    put(
        "Farakte 2016, 1.99 mm",
        "1/min",
        row(rows, "Farakte 2016", "1.99"),
        rate(1.99),
    );
    put(
        "Farakte 2016, 0.33 mm",
        "1/min",
        row(rows, "Farakte 2016", "0.33"),
        rate(0.33),
    );

    let old_leaves = soaked(
        "green_tea_leaf",
        powder(0.3),
        ratio(row(rows, "Tran Chi Hai 2017", "")),
        60.0,
        minutes(40.0),
    );
    put(
        "Tran Chi Hai 2017",
        "mg/g",
        row(rows, "Tran Chi Hai 2017", ""),
        tannin(&old_leaves),
    );

    // Grain not given: 1 mm, as graded teas of this kind. "Maximum" is read as 95 %.
    let ctc = Grain::crushed().measuring(millimeters(1.0)).unwrap();
    let longest = Process::new(&lot("black_tea_leaf"), grams(1.0), ctc)
        .unwrap()
        .time_to(Share::percent(95.0).unwrap(), celsius(90.0))
        .unwrap();
    put(
        "Fernando & Soysa 2015",
        "min",
        row(rows, "Fernando & Soysa 2015", ""),
        map(&longest, |t| t.get::<minute>()),
    );

    // Fannings of bags, 0.5 mm; a cup of 100 g for a gram.
    let bag = soaked("black_tea_leaf", powder(0.5), 100.0, 95.0, minutes(2.0));
    put(
        "Lakenbrink 2000",
        "%",
        row(rows, "Lakenbrink 2000", ""),
        share(&bag),
    );

    let peel = soaked(
        "pomegranate_rind",
        powder(0.2),
        ratio(row(rows, "Qu 2010", "")),
        25.0,
        minutes(2.0),
    );
    put("Qu 2010", "%", row(rows, "Qu 2010", ""), {
        let g = tannin(&peel);
        map(&g, |g| g / 10.0)
    });

    // What a second wash adds, % of the plant's tannin; "no gain" is 0.
    let drained = |ratio| Wash::per_gram(ratio, celsius(29.0), hours(36.0)).unwrap();
    let twice = Process::new(&lot("pomegranate_rind"), grams(100.0), powder(0.2))
        .unwrap()
        .wash(drained(10.0))
        .unwrap()
        .wash(drained(10.0))
        .unwrap()
        .run()
        .unwrap();
    assert_eq!(row(rows, "Pomegranate 2016", "")["value"], "no gain");
    out.push(Line {
        name: "Pomegranate 2016",
        unit: "%",
        published: (0.0, 0.0),
        predicted: map(&twice.washes[1].liquor.share, |s| s.as_percent()),
    });
    let mut put = |name, unit, row: &Row, predicted| {
        out.push(Line {
            name,
            unit,
            published: published(row),
            predicted,
        });
    };

    // Temperature of the bath not given: 40 °C. Whether the galls were weighed
    // dry is not said: taken as dry.
    let galls = soaked(
        "chinese_galls",
        Grain::powder(),
        ratio(row(rows, "Zhang 2012", "")),
        40.0,
        minutes(32.0),
    );
    put("Zhang 2012", "%", row(rows, "Zhang 2012", ""), {
        let g = tannin(&galls);
        map(&g, |g| g / 10.0)
    });

    // 35 and 18 mL per gram of galls: from the group's paper of 2025 (npj
    // Heritage Science s40494-025-01946-x, table 2), inferred to apply.
    let water = |ml: f64, d: f64| Wash::of(grams(ml), celsius(20.0), days(d)).unwrap();
    let aleppo = || Process::new(&lot("aleppo_galls"), grams(1.0), Grain::crushed()).unwrap();
    let gallic = |process: Process| {
        let out = process.run().unwrap();
        let last = out.last();
        let per_ml = |m: f64| m * 1e6 / (last.volume.typical.in_milliliters());
        map(&last.gallic_acid, |m| per_ml(m.in_kilograms()))
    };
    let quarter = BoilDown::ToShare(Share::percent(25.0).unwrap());
    put(
        "Diaz Hidalgo 2018 Montpellier",
        "mg/mL",
        row(rows, "Diaz Hidalgo 2018 Montpellier", ""),
        gallic(
            aleppo()
                .wash(water(35.0, 3.0))
                .unwrap()
                .boiled_down(quarter)
                .unwrap(),
        ),
    );
    put(
        "Diaz Hidalgo 2018 Madrid",
        "mg/mL",
        row(rows, "Diaz Hidalgo 2018 Madrid", ""),
        gallic(aleppo().wash(water(18.0, 9.0)).unwrap()),
    );

    let ten_days = Fermentation::new(celsius(25.0), days(10.0))
        .unwrap()
        .share();
    put(
        "Eusman 1998",
        "%",
        row(rows, "Eusman 1998", ""),
        map(&ten_days, |s| s.as_percent()),
    );
    out
}

#[test]
fn published_extractions_beside_predictions() {
    let rows = table("extraction_studies.csv");
    let lines = lines(&rows);
    let mut missed = Vec::new();
    println!(
        "{:32}{:>16}{:>10}  [95 %]",
        "study", "published", "predicted"
    );
    for line in &lines {
        let (low, high) = line.published;
        let Span {
            low: from,
            typical,
            high: to,
        } = line.predicted;
        let mark = if line.met() { "" } else { "  MISS" };
        let range = if low == high {
            format!("{low:.3}")
        } else {
            format!("{low:.2}-{high:.2}")
        };
        println!(
            "{:32}{range:>16}{typical:>10.3}  [{from:.3}, {to:.3}] {}{mark}",
            line.name, line.unit
        );
        if !line.met() {
            missed.push(line.name);
        }
    }
    println!(
        "not compared: Arina 2019 (no credible unit; its optimum of 75 °C is a caution above 90 °C, not in the model), TTE 12 teas (the accessible share was taken from it)"
    );
    let known: Vec<&str> = KNOWN.iter().map(|k| k.0).collect();
    assert_eq!(missed, known);
    for (name, why) in KNOWN {
        println!("{name}: {why}");
    }
}

/// Arina 2019 found 75 °C better than 100 °C. The model rises with
/// temperature all the way: it says so above 90 °C.
#[test]
fn hotter_than_the_model_knows() {
    let rows = table("extraction_studies.csv");
    assert_eq!(row(&rows, "Arina 2019", "")["value"], "75");
    let hot = |c: f64| {
        soaked("aleppo_galls", Grain::crushed(), 20.0, c, minutes(30.0))
            .run()
            .unwrap()
    };
    let cautioned = |c: f64| {
        hot(c)
            .cautions
            .iter()
            .any(|c| matches!(c, Caution::Hot { .. }))
    };
    assert!(!cautioned(75.0) && cautioned(100.0));
}
