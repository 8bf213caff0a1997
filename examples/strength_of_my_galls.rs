//! How strong are my galls? From the catalogue's guess to a tested liquor.
//!
//! A village school's calligraphy club has picked marble galls off the hedge
//! behind the playing field and drawn a liquor from them. Every test of it
//! narrows what is known; the figure shows the interval shrink. The club and
//! its readings are of our own invention.
//!
//! ```text
//! cargo run --example strength_of_my_galls               target/strength_of_my_galls.svg
//! cargo run --example strength_of_my_galls -- mine.svg   another file
//! ```

use ferrogall::assay::{LiquorDensity, Reading, SpotTest, TanninFactor, loewenthal};
use ferrogall::bench::Lot;
use ferrogall::composition::criteria;
use ferrogall::extraction::{Grain, Liquors, Process, Straining, Wash};
use ferrogall::quantity::*;
use ferrogall::recipe::{Recipe, Solution};
use ferrogall::source::Range;
use ferrogall::uncertainty::{Belief, Evidence, MonteCarlo, Study};
use plotters::prelude::*;
use std::error::Error;
use std::fmt::Write as _;
use std::path::PathBuf;

type Out<T> = Result<T, Box<dyn Error>>;

fn main() -> Out<()> {
    let path = match std::env::args_os().nth(1) {
        Some(path) => PathBuf::from(path),
        None => {
            std::fs::create_dir_all("target")?;
            PathBuf::from("target/strength_of_my_galls.svg")
        }
    };
    let liquors = drawn()?;
    let stages = stages(&liquors)?;
    std::fs::write(&path, figure(&stages)?)?;
    print!("{}", page(&liquors, &stages)?);
    println!("\n{}", path.display());
    Ok(())
}

/// Sixty grams of crushed galls, two days in the cold, wrung out in a cloth.
fn drawn() -> Out<Liquors> {
    let galls = Lot::of("marble_galls")?.named("hedge galls").build()?;
    let two_days =
        Wash::of(grams(600.0), celsius(16.0), days(2.0))?.strained(Straining::Pressed)?;
    let process = Process::new(&galls, grams(60.0), Grain::crushed())?.wash(two_days)?;
    Ok(process.run()?)
}

/// What is believed of the liquor after each test: galloyl, mmol/L.
struct Stage {
    name: &'static str,
    test: &'static str,
    belief: Belief,
    /// Standard deviations between the test and what was believed before it.
    surprise: f64,
}

fn stages(liquors: &Liquors) -> Out<Vec<Stage>> {
    let tests: [(&str, &str, Evidence); 3] = [
        (
            "hydrometer",
            "1.0075 at 16 °C, against water of 15 °C: at most so much",
            hydrometer()?,
        ),
        (
            "spot test",
            "beside a solution of bought tannic acid",
            spot_test()?,
        ),
        (
            "permanganate",
            "Löwenthal's titration, before and after gelatin",
            titration()?,
        ),
    ];
    let mut belief = liquors.strength()?;
    let mut stages = vec![Stage {
        name: "catalogue",
        test: "8 to 20 % tannin, and what a soak gives",
        belief,
        surprise: 0.0,
    }];
    for (name, test, evidence) in tests {
        let surprise = belief.surprise(&evidence);
        belief = belief.updated(&evidence);
        stages.push(Stage {
            name,
            test,
            belief,
            surprise,
        });
    }
    Ok(stages)
}

/// Galloyl per mass of this tannin: midway between gall and ellagi tannin
/// (the catalogue's row), mol/kg and its relative uncertainty.
fn galloyl_per_tannin() -> Out<(f64, f64)> {
    let rows = ferrogall::bench::tannin_sources();
    let row = rows.iter().find(|r| r.id == "marble_galls");
    let range = row.ok_or("no such row")?.galloyl_mmol_per_g;
    Ok((range.typical, range.u_ln()))
}

/// All that is dissolved counts, sugar too: an upper bound.
fn hydrometer() -> Out<Evidence> {
    let shown = Reading::rectangular(1.0075, 0.0005)?;
    let half_a_kelvin = Temperature::new::<uom::si::thermodynamic_temperature::kelvin>(0.5);
    let warmth = Reading::rectangular(celsius(16.0), half_a_kelvin)?;
    let tannin = LiquorDensity::new(shown, warmth, celsius(15.0)).tannin()?;
    let (galloyl, u_ln) = galloyl_per_tannin()?;
    let kg_per_m3 = 1006.5;
    Ok(tannin.evidence()?.times(kg_per_m3 * galloyl, u_ln)?)
}

/// The same drops of iron(III) into a solution of known content first: it says
/// how much iron a galloyl takes to this eye, in this light.
fn spot_test() -> Out<Evidence> {
    let iron = || Reading::standard(moles_per_liter(0.100), moles_per_liter(0.002));
    let milliliter = || Reading::standard(milliliters(1.0), milliliters(0.02));
    let ends = |last: f64, first: f64| (milliliters(0.05 * last), milliliters(0.05 * first));

    // 10.0 g/L of bought tannic acid: 0.90 tannin of 5.6 mmol galloyl per gram.
    let known = 10.0 * 0.90 * 5.6;
    let (last, first) = ends(6.0, 7.0);
    let per_galloyl = |v: Volume| v.in_milliliters() * 100.0 / known;
    let (low, high) = (per_galloyl(last), per_galloyl(first));
    let span = Range::new(low, (low * high).sqrt(), high);

    let (last, first) = ends(9.0, 10.0);
    let test = SpotTest::iron_into_extract(milliliter()?, iron()?, last, first)?
        .iron_per_galloyl(span)?
        .judging(0.08)?;
    Ok(test.galloyl()?.evidence()?)
}

/// Five millilitres of the liquor, thinned, with indigo carmine.
fn titration() -> Out<Evidence> {
    let tannin = loewenthal(
        &TanninFactor::LOEWENTHAL_NEUBAUER,
        &Reading::standard(moles_per_liter(0.0200), moles_per_liter(0.0002))?,
        &Reading::buret(milliliters(21.3), milliliters(0.05))?,
        &Reading::buret(milliliters(3.4), milliliters(0.05))?,
    )?;
    let (galloyl, u_ln) = galloyl_per_tannin()?;
    let pipette_m3 = 5e-6;
    Ok(tannin.evidence()?.times(galloyl / pipette_m3, u_ln)?)
}

fn page(liquors: &Liquors, stages: &[Stage]) -> Out<String> {
    let mut out = String::new();
    writeln!(out, "How strong is the liquor of the hedge galls?\n")?;
    let ml = liquors.all.volume;
    writeln!(
        out,
        "  60 g of galls in 600 g of water give {:.0} mL ({:.0} to {:.0}) of liquor.\n",
        ml.typical.in_milliliters(),
        ml.low.in_milliliters(),
        ml.high.in_milliliters()
    )?;
    writeln!(
        out,
        "  after           galloyl, mmol/L   95 %             as a factor  surprise"
    )?;
    for stage in stages {
        let (low, high) = stage.belief.interval();
        writeln!(
            out,
            "  {:<14}  {:>8.0}          {:>4.0} to {:<4.0}     {:>5.2}        {:.1}",
            stage.name,
            stage.belief.median(),
            low,
            high,
            (high / low).sqrt(),
            stage.surprise
        )?;
    }
    writeln!(
        out,
        "\n  (surprise: deviations between a test and what was believed before it;\n  beyond 3 the galls are not what they are taken for.)\n"
    )?;
    let (first, last) = (stages.first(), stages.last());
    let (first, last) = (first.ok_or("no stage")?, last.ok_or("no stage")?);
    let galls = Belief::of_range(Range::new(0.08, 0.15, 0.20))?;
    let galls = galls.after_product(&first.belief, &last.belief);
    let (low, high) = galls.interval();
    writeln!(
        out,
        "  The galls themselves: {:.0} % tannin of dry matter, {:.0} to {:.0}; the yield of the\n  soak is in that.\n",
        100.0 * galls.median(),
        100.0 * low,
        100.0 * high
    )?;
    for (when, stage) in [("untested", first), ("tested", last)] {
        out.push_str(&ink(liquors, when, &stage.belief)?);
    }
    writeln!(
        out,
        "  Permanganate stains and oxidises, iron(III) chloride is acid: goggles, gloves;\n  with children the teacher titrates. Local rules come first."
    )?;
    Ok(out)
}

/// 250 mL of the liquor with three grams of green vitriol.
fn ink(liquors: &Liquors, when: &str, belief: &Belief) -> Out<String> {
    let liquor = liquors.to_lot_of_strength(format!("{when} liquor"), belief)?;
    let vitriol = Lot::of("iron_ii_sulfate_heptahydrate")?
        .named("green vitriol")
        .purity(0.97, 0.01)?
        .build()?;
    let recipe = Recipe::new("school ink").with(
        Solution::new("ink")
            .add(&liquor, milliliters(250.0))
            .add(&vitriol, grams(3.0)),
    );
    let study = Study::of(&recipe)?;
    let plan = MonteCarlo::fixed(1, 20_000)?;
    let standard = criteria().iter().find(|c| c.id == "standard_inks");
    let standard = standard.ok_or("no such criterion")?;
    let chance = study.excess_iron(standard, &plan)?;
    let sure = study.assured(&vitriol, standard, 0.95, &plan)?;
    let mut out = String::new();
    writeln!(
        out,
        "  {when}: 3.0 g of green vitriol in 250 mL is more iron than the official inks\n  had with a chance of {:.0} %; at most {:.1} g makes it 95 % sure that it is not.\n",
        100.0 * chance.probability,
        sure.mass.in_grams()
    )?;
    Ok(out)
}

/// The intervals one under the other, as bars.
fn figure(stages: &[Stage]) -> Out<String> {
    const INK: RGBColor = RGBColor(22, 48, 110);
    const PALE: RGBColor = RGBColor(188, 205, 236);
    const GREY: RGBColor = RGBColor(80, 80, 80);
    let mut svg = String::new();
    {
        let size = (900, 120 + 90 * stages.len() as u32);
        let root = SVGBackend::with_string(&mut svg, size).into_drawing_area();
        root.fill(&WHITE)?;
        let title = ("sans-serif", 24).into_font();
        root.draw_text(
            "What each test tells of the hedge galls' liquor",
            &title.into(),
            (22, 14),
        )?;
        let rows = stages.len() as f64;
        let mut chart = ChartBuilder::on(&root)
            .margin_top(54)
            .margin_left(22)
            .margin_right(30)
            .margin_bottom(8)
            .x_label_area_size(44)
            .build_cartesian_2d(0.0..140.0_f64, 0.0..rows)?;
        chart
            .configure_mesh()
            .disable_y_mesh()
            .disable_y_axis()
            .x_desc("galloyl units, mmol/L")
            .x_labels(8)
            .x_label_formatter(&|x| format!("{x:.0}"))
            .label_style(("sans-serif", 15))
            .draw()?;
        for (i, stage) in stages.iter().enumerate() {
            let y = rows - i as f64 - 0.72;
            let (low, high) = stage.belief.interval();
            let bar = |from: f64, to: f64, half: f64, style: ShapeStyle| {
                Rectangle::new([(from, y - half), (to, y + half)], style)
            };
            chart.draw_series([bar(low, high, 0.13, PALE.filled())])?;
            // The middle half of it.
            let quarter = (0.674_489_75 * stage.belief.u_ln()).exp();
            let median = stage.belief.median();
            chart.draw_series([bar(median / quarter, median * quarter, 0.13, INK.filled())])?;
            let label = |text: String, dy: f64, size: i32, color: RGBColor| {
                let style = ("sans-serif", size).into_font().color(&color);
                Text::new(text, (1.0, y + dy), style)
            };
            let words = format!("{}: {}", stage.name, stage.test);
            chart.draw_series([label(words, 0.46, 16, BLACK)])?;
            let figures = format!("{median:.0} ({low:.0} to {high:.0})");
            let style = ("sans-serif", 15).into_font().color(&GREY);
            chart.draw_series([Text::new(figures, (high + 1.5, y + 0.10), style)])?;
        }
        root.present()?;
    }
    Ok(svg)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every test narrows the interval, none is a surprise, and the figure is
    /// one.
    #[test]
    fn the_interval_shrinks() -> Out<()> {
        let liquors = drawn()?;
        let stages = stages(&liquors)?;
        assert_eq!(stages.len(), 4);
        for pair in stages.windows(2) {
            assert!(pair[1].belief.u_ln() < pair[0].belief.u_ln());
            assert!(pair[1].surprise < 3.0, "{}", pair[1].name);
        }
        let page = page(&liquors, &stages)?;
        assert!(!page.contains("NaN") && page.lines().all(|l| l.chars().count() <= 80));
        let svg = figure(&stages)?;
        assert!(svg.starts_with("<svg") && !svg.contains("NaN"));
        Ok(())
    }
}
