//! Draws where the iron of an ink is, over pH, and prints the same as a table.
//!
//! The ink is a scenario of our own: a bookbinder's ledger ink, acidified, an
//! eleventh of its iron already oxidised in the open pot. Hydrochloric acid or
//! sodium hydroxide take it from pH 1 to 8. Nothing is let settle on the way;
//! where something would, the figure says so.
//!
//! ```text
//! cargo run --example speciation_diagram               target/speciation.svg
//! cargo run --example speciation_diagram -- mine.svg   another file
//! ```

use ferrogall::equilibrium::{ConstantSet, EquilibriumError, Master, Solver, Totals};
use ferrogall::quantity::{ReadMolality, celsius, moles_per_kilogram};
use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use std::error::Error;
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

/// mol per kilogram of water.
const INK: &[(Master, f64)] = &[
    (Master::IronII, 0.050),
    (Master::IronIII, 0.005),
    (Master::Sulfate, 0.0575),
    (Master::Chloride, 0.030),
    (Master::Gallate, 0.010),
    (Master::Galloyl, 0.080),
];
const LOWEST: f64 = 1.0;
const HIGHEST: f64 = 8.0;
const STEPS: usize = 280;
/// Species that nowhere hold this share of their iron are left out.
const WORTH_DRAWING: f64 = 0.02;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("{e}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), Box<dyn Error>> {
    let path = match std::env::args_os().nth(1) {
        Some(path) => PathBuf::from(path),
        None => {
            std::fs::create_dir_all("target")?;
            PathBuf::from("target/speciation.svg")
        }
    };
    let mut solver = Solver::new(ConstantSet::reviewed(), celsius(25.0))?;
    let sweep = Sweep::of(&mut solver, &scenario()?)?;
    let panels = [
        sweep.panel(
            &solver,
            Master::IronIII,
            "iron(III)",
            "ferrihydrite (2-line)",
        ),
        sweep.panel(&solver, Master::IronII, "iron(II)", "iron(II) hydroxide"),
    ];
    let mut svg = String::new();
    figure(
        &SVGBackend::with_string(&mut svg, SIZE).into_drawing_area(),
        &sweep,
        &panels,
    )?;
    std::fs::write(&path, at_true_size(&svg))?;
    let text = format!("{}{}\n", table(&sweep, &panels), path.display());
    match std::io::stdout().write_all(text.as_bytes()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => Err(e.into()),
        _ => Ok(()),
    }
}

// The chemistry.

fn scenario() -> Result<Totals, EquilibriumError> {
    INK.iter().try_fold(Totals::new(), |totals, (master, m)| {
        totals.with(*master, moles_per_kilogram(*m))
    })
}

/// The ink at every pH.
struct Sweep {
    ph: Vec<f64>,
    /// Molality of every species, one pH after the other.
    species: Vec<Vec<(String, f64)>>,
    /// Solids beyond their solubility that form within days.
    solids: Vec<Vec<String>>,
    /// As mixed, with neither acid nor base added.
    own_ph: f64,
}

impl Sweep {
    fn of(solver: &mut Solver, ink: &Totals) -> Result<Sweep, EquilibriumError> {
        let mut sweep = Sweep {
            ph: Vec::new(),
            species: Vec::new(),
            solids: Vec::new(),
            own_ph: solver.solve(ink)?.ph(),
        };
        for i in 0..=STEPS {
            let ph = LOWEST + (HIGHEST - LOWEST) * i as f64 / STEPS as f64;
            let unknown = if ph < sweep.own_ph {
                Master::Chloride
            } else {
                Master::Sodium
            };
            let (_, solution) = solver.solve_for(unknown, ph, ink)?;
            let species = solution.species();
            let species = species.map(|s| (s.name.into(), s.molality.in_moles_per_kilogram()));
            let solids = solution
                .solids()
                .filter(|s| s.forms_promptly && s.index > 0.0);
            sweep.ph.push(ph);
            sweep.species.push(species.collect());
            sweep.solids.push(solids.map(|s| s.name.into()).collect());
        }
        Ok(sweep)
    }

    fn panel(
        &self,
        solver: &Solver,
        iron: Master,
        title: &'static str,
        solid: &'static str,
    ) -> Panel {
        let mut curves: Vec<Curve> = Vec::new();
        for species in solver.set().species().filter(|s| s.count(iron) > 0.0) {
            let of = |row: &Vec<(String, f64)>| {
                let found = row.iter().find(|(name, _)| name == species.name());
                found.map_or(0.0, |(_, m)| m * species.count(iron))
            };
            let total: f64 = INK.iter().filter(|(m, _)| *m == iron).map(|(_, t)| t).sum();
            let share: Vec<f64> = self.species.iter().map(|row| of(row) / total).collect();
            if share.iter().all(|s| *s < WORTH_DRAWING) {
                continue;
            }
            let family = FAMILIES
                .iter()
                .find(|f| f.ligand.is_none_or(|l| species.count(l) > 0.0));
            let Some(family) = family else { continue };
            let siblings = curves.iter().filter(|c| c.family.name == family.name);
            curves.push(Curve {
                name: species.name().into(),
                share,
                family,
                dash: DASHES[siblings.count() % DASHES.len()],
            });
        }
        let beyond = |i: &usize| self.solids[*i].iter().any(|s| s == solid);
        let first = (0..=STEPS).find(beyond);
        let last = (0..=STEPS).rfind(beyond);
        Panel {
            title,
            curves,
            settles: first
                .zip(last)
                .map(|(a, b)| (solid, self.ph[a], self.ph[b])),
        }
    }
}

/// The species of iron of one kind.
struct Panel {
    title: &'static str,
    curves: Vec<Curve>,
    /// Where a solid would settle.
    settles: Option<(&'static str, f64, f64)>,
}

/// One species over pH.
struct Curve {
    name: String,
    /// Share of the iron of its kind.
    share: Vec<f64>,
    family: &'static Family,
    dash: Option<(i32, i32)>,
}

impl Curve {
    fn peak(&self) -> (usize, f64) {
        let rows = self.share.iter().copied().enumerate();
        rows.fold(
            (0, 0.0),
            |best, (i, s)| if s > best.1 { (i, s) } else { best },
        )
    }
}

/// What iron is bound to gives the colour, the dashes tell the members apart.
struct Family {
    name: &'static str,
    ligand: Option<Master>,
    colour: RGBColor,
}

/// Told apart with any kind of colour vision; the first that fits counts.
const FAMILIES: &[Family] = &[
    Family {
        name: "gallic acid",
        ligand: Some(Master::Gallate),
        colour: RGBColor(170, 70, 140),
    },
    Family {
        name: "tannin",
        ligand: Some(Master::Galloyl),
        colour: RGBColor(20, 60, 140),
    },
    Family {
        name: "sulfate",
        ligand: Some(Master::Sulfate),
        colour: RGBColor(205, 90, 0),
    },
    Family {
        name: "chloride",
        ligand: Some(Master::Chloride),
        colour: RGBColor(0, 140, 100),
    },
    Family {
        name: "water",
        ligand: None,
        colour: RGBColor(0, 0, 0),
    },
];
/// Pixels drawn and left out.
const DASHES: [Option<(i32, i32)>; 4] = [None, Some((12, 5)), Some((6, 4)), Some((2, 4))];

/// `Fe(HGal)3-6` as chemists print it.
fn printed(name: &str) -> String {
    let charge = name.rfind(['+', '-']).unwrap_or(name.len());
    let shift = |c: char, zero: u32| {
        let digit = c.to_digit(10).and_then(|d| char::from_u32(zero + d));
        digit.unwrap_or(c)
    };
    let raised = |c: char| match c {
        '+' => '⁺',
        '-' => '⁻',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        c => shift(c, 0x2070),
    };
    let (formula, charge) = name.split_at(charge);
    let formula = formula.chars().map(|c| shift(c, 0x2080));
    let sign = charge.chars().take(1);
    let size = charge.chars().skip(1);
    formula.chain(size.chain(sign).map(raised)).collect()
}

// The table.

fn table(sweep: &Sweep, panels: &[Panel]) -> String {
    let whole: Vec<usize> = (0..=STEPS)
        .filter(|i| sweep.ph[*i].fract() == 0.0)
        .collect();
    let mut text = format!(
        "As mixed pH {:.2}. Share of the iron in each species, %\n",
        sweep.own_ph
    );
    for panel in panels {
        let _ = write!(text, "\n{:<22}", format!("{}, at pH", panel.title));
        for i in &whole {
            let _ = write!(text, "{:>7}", sweep.ph[*i]);
        }
        text.push('\n');
        for curve in &panel.curves {
            let _ = write!(text, "  {:<20}", curve.name);
            for i in &whole {
                let _ = write!(text, "{:>7.1}", 100.0 * curve.share[*i]);
            }
            text.push('\n');
        }
        if let Some((solid, from, to)) = panel.settles {
            let _ = writeln!(text, "  {solid} would settle from pH {from:.1} to {to:.1}");
        }
    }
    let _ = writeln!(text, "\n{}\n", NOTE.join("\n"));
    text
}

const NOTE: [&str; 3] = [
    "Fractions bound to gallic acid and tannin are good to an order of magnitude: the constants behind them are no better.",
    "Gal is gallic acid less its four protons; Galloyl is one galloyl site of tannin, with or without its two.",
    "Nothing is let settle. In the shaded spans less iron would stay dissolved; of the pigment no solubility is known.",
];

// The figure.

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
type Drawn = Result<(), Box<dyn Error>>;

/// The backend rounds to whole units: a pixel has several, for smooth curves.
const UNITS: i32 = 4;
const fn px(pixels: i32) -> i32 {
    UNITS * pixels
}

const WIDTH: i32 = px(1120);
const HEIGHT: i32 = px(1010);
const SIZE: (u32, u32) = (WIDTH as u32, HEIGHT as u32);
const HEAD: i32 = px(72);
const FOOT: i32 = px(82);
const LEGEND: i32 = px(345);
/// Radius of the ring around a letter.
const RING: i32 = px(9);
const GREY: RGBColor = RGBColor(85, 85, 85);
const SHADE: RGBColor = RGBColor(236, 233, 226);
/// Smaller shares lie on the axis and are not drawn.
const ON_THE_AXIS: f64 = 0.005;

/// The size in pixels that a viewer is told.
fn at_true_size(svg: &str) -> String {
    let drawn = format!("width=\"{WIDTH}\" height=\"{HEIGHT}\"");
    let shown = format!("width=\"{}\" height=\"{}\"", WIDTH / UNITS, HEIGHT / UNITS);
    svg.replacen(&drawn, &shown, 1)
}

fn font(pixels: i32) -> TextStyle<'static> {
    ("sans-serif", px(pixels)).into_text_style(&SIZE)
}

fn line(colour: impl Color, pixels: i32) -> ShapeStyle {
    colour.stroke_width(px(pixels) as u32)
}

fn in_the_middle(colour: &RGBColor) -> TextStyle<'_> {
    let style = font(14).color(colour);
    style.pos(Pos::new(HPos::Center, VPos::Center))
}

fn figure(root: &Area, sweep: &Sweep, panels: &[Panel]) -> Drawn {
    root.fill(&WHITE)?;
    let (head, rest) = root.split_vertically(HEAD);
    let (middle, foot) = rest.split_vertically(HEIGHT - HEAD - FOOT);
    let title = "Where the iron of a bookbinder's ledger ink is, by pH";
    head.draw_text(title, &font(25), (px(24), px(12)))?;
    let total = |m: Master| {
        let of = INK.iter().filter(|(n, _)| *n == m);
        of.map(|(_, t)| 1000.0 * t).sum::<f64>()
    };
    let ink = format!(
        "mmol per kg of water: iron(II) {}, iron(III) {}, sulfate {}, chloride {}, gallic acid {}, \
         galloyl sites of tannin {}; 25 °C; pH set with HCl or NaOH",
        total(Master::IronII),
        total(Master::IronIII),
        total(Master::Sulfate),
        total(Master::Chloride),
        total(Master::Gallate),
        total(Master::Galloyl),
    );
    head.draw_text(&ink, &font(15).color(&GREY), (px(24), px(46)))?;
    for (text, y) in NOTE.iter().zip([6, 29, 52]) {
        foot.draw_text(text, &font(15), (px(24), px(y)))?;
    }
    let mut alphabet = 'a'..='z';
    let areas = middle.split_evenly((panels.len(), 1));
    for (area, panel) in areas.iter().zip(panels) {
        let (plot, legend) = area.split_horizontally(WIDTH - LEGEND);
        let letters: Vec<char> = alphabet.by_ref().take(panel.curves.len()).collect();
        draw_plot(&plot, sweep, panel, &letters)?;
        draw_legend(&legend, sweep, panel, &letters)?;
    }
    root.present()?;
    Ok(())
}

fn draw_plot(area: &Area, sweep: &Sweep, panel: &Panel, letters: &[char]) -> Drawn {
    // Above 100 % is room for what is said of spans of pH.
    const TOP: f64 = 110.0;
    const WORDS: f64 = 105.0;
    let above = |h| font(14).color(&GREY).pos(Pos::new(h, VPos::Center));
    let mut chart = ChartBuilder::on(area)
        .margin(px(6))
        .margin_left(px(18))
        .x_label_area_size(px(46))
        .y_label_area_size(px(58))
        .build_cartesian_2d(LOWEST..HIGHEST, 0.0..TOP)?;
    if let Some((solid, from, to)) = panel.settles {
        let span = [(from, 0.0), (to, TOP)];
        chart.draw_series([Rectangle::new(span, SHADE.filled())])?;
        let solid = solid.split(" (").next().unwrap_or(solid);
        let words = format!("{solid} would settle");
        let (x, h) = if to >= HIGHEST {
            (to - 0.05, HPos::Right)
        } else {
            (0.5 * (from + to), HPos::Center)
        };
        chart.draw_series([Text::new(words, (x, WORDS), above(h))])?;
    }
    let percent = |y: &f64| match *y {
        y if y <= 100.0 => format!("{y:.0}"),
        _ => String::new(),
    };
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(line(BLACK.mix(0.12), 1))
        .axis_style(line(BLACK, 1))
        .set_all_tick_mark_size(px(5))
        .x_labels(8)
        .y_labels(11)
        .x_desc("pH")
        .y_desc(format!("share of the {}, %", panel.title))
        .x_label_formatter(&|x| format!("{x:.0}"))
        .y_label_formatter(&percent)
        .label_style(font(15))
        .axis_desc_style(font(17))
        .draw()?;
    let own = [(sweep.own_ph, 0.0), (sweep.own_ph, TOP)];
    let dots = DashedLineSeries::new(own, px(3), px(3), line(GREY, 1));
    chart.draw_series(dots)?;
    let words = format!("as mixed, pH {:.2}", sweep.own_ph);
    let place = (sweep.own_ph + 0.05, WORDS);
    chart.draw_series([Text::new(words, place, above(HPos::Left))])?;

    for curve in &panel.curves {
        let points = sweep.ph.iter().zip(&curve.share);
        let points = points.filter(|(_, s)| **s >= ON_THE_AXIS);
        let points = points.map(|(x, s)| (*x, 100.0 * s)).collect::<Vec<_>>();
        let style = line(curve.family.colour, 2);
        match curve.dash {
            None => chart.draw_series(LineSeries::new(points, style))?,
            Some((drawn, left)) => {
                let dashes = DashedLineSeries::new(points, px(drawn), px(left), style);
                chart.draw_series(dashes)?
            }
        };
    }
    let pixels = |i: usize, share: f64| chart.backend_coord(&(sweep.ph[i], 100.0 * share));
    let places = places_of_letters(panel, &pixels);
    for ((curve, letter), i) in panel.curves.iter().zip(letters).zip(places) {
        let at = (sweep.ph[i], 100.0 * curve.share[i]);
        let colour = &curve.family.colour;
        chart.draw_series([EmptyElement::at(at)
            + Circle::new((0, 0), RING, WHITE.filled())
            + Circle::new((0, 0), RING, line(*colour, 1))
            + Text::new(letter.to_string(), (0, 0), in_the_middle(colour))])?;
    }
    Ok(())
}

/// Where each curve has its letter: high on it, and away from the others.
fn places_of_letters(panel: &Panel, pixels: &dyn Fn(usize, f64) -> (i32, i32)) -> Vec<usize> {
    const CLEAR: f64 = px(26) as f64;
    const TOUCHING: f64 = 2.1 * RING as f64;
    let mut taken: Vec<(i32, i32)> = Vec::new();
    let mut places = Vec::new();
    for (c, curve) in panel.curves.iter().enumerate() {
        let (_, peak) = curve.peak();
        let worth = |i: &usize| {
            let (x, y) = pixels(*i, curve.share[*i]);
            let others = panel.curves.iter().enumerate().filter(|(o, _)| *o != c);
            let curves = others.map(|(_, o)| f64::from((pixels(*i, o.share[*i]).1 - y).abs()));
            let letters = taken.iter();
            let letters = letters.map(|(tx, ty)| f64::from(x - tx).hypot(f64::from(y - ty)));
            let letters = letters.fold(CLEAR, f64::min);
            let height = curve.share[*i] / peak;
            let low_or_covered = height < 0.3 || letters < TOUCHING;
            curves.fold(letters, f64::min) / CLEAR + height
                - f64::from(u8::from(low_or_covered)) * 9.0
        };
        let inside = STEPS / 40..STEPS - STEPS / 40;
        let place = inside.max_by(|a, b| worth(a).total_cmp(&worth(b)));
        let place = place.unwrap_or(0);
        taken.push(pixels(place, curve.share[place]));
        places.push(place);
    }
    places
}

fn draw_legend(area: &Area, sweep: &Sweep, panel: &Panel, letters: &[char]) -> Drawn {
    const ROW: i32 = 27;
    const NAME: i32 = px(78);
    const LIGAND: i32 = px(174);
    const MOST: i32 = px(250);
    let left = |size: i32| font(size).pos(Pos::new(HPos::Left, VPos::Center));
    let small = left(14).color(&GREY);
    let mut y = px(18);
    for (words, x) in [("species", NAME), ("with", LIGAND), ("most, at pH", MOST)] {
        area.draw_text(words, &small, (x, y))?;
    }
    for (curve, letter) in panel.curves.iter().zip(letters) {
        y += px(ROW);
        let colour = &curve.family.colour;
        let (drawn, gap) = curve.dash.unwrap_or((56, 1));
        let (mut x, end) = (px(8), px(64));
        while x < end {
            let stroke = [(x, y), ((x + px(drawn)).min(end), y)];
            area.draw(&PathElement::new(stroke, line(*colour, 2)))?;
            x += px(drawn + gap);
        }
        area.draw(&Circle::new((px(36), y), RING, WHITE.filled()))?;
        area.draw(&Circle::new((px(36), y), RING, line(*colour, 1)))?;
        area.draw_text(&letter.to_string(), &in_the_middle(colour), (px(36), y))?;
        area.draw_text(&printed(&curve.name), &left(16), (NAME, y))?;
        area.draw_text(curve.family.name, &small, (LIGAND, y))?;
        let (at, peak) = curve.peak();
        let most = format!("{:.0} %, {:.1}", 100.0 * peak, sweep.ph[at]);
        area.draw_text(&most, &small, (MOST, y))?;
    }
    Ok(())
}
