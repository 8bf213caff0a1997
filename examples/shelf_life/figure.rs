//! The bottle's year as a figure.

use crate::advice::name_of;
use crate::page::tannin_left;
use crate::story::{CAPACITY_ML, CELSIUS, DRAWN_ML, FILL_ML, OPENED_EVERY_DAYS, Story, YEAR_DAYS};
use crate::words::percent;
use ferrogall::quantity::ReadTime;
use plotters::coord::Shift;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use std::error::Error;
use std::ops::Range;

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
type Chart<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;
type Drawn = Result<(), Box<dyn Error>>;

/// The backend rounds to whole units: a pixel has several, for smooth curves.
const UNITS: i32 = 4;
const fn px(pixels: i32) -> i32 {
    UNITS * pixels
}

const WIDTH: i32 = px(900);
const HEAD: i32 = px(84);
const PANELS: [i32; 3] = [px(366), px(416), px(350)];
const FOOT: i32 = px(62);
const HEIGHT: i32 = HEAD + PANELS[0] + PANELS[1] + PANELS[2] + FOOT;
const SIZE: (u32, u32) = (WIDTH as u32, HEIGHT as u32);
/// Beside every plot: what its lines are.
const LEGEND: i32 = px(300);
const TITLE: i32 = px(30);

/// Told apart with any kind of colour vision: by lightness, and by dashes.
const INK: RGBColor = RGBColor(22, 48, 110);
const BAND: RGBColor = RGBColor(188, 205, 236);
const RUST: RGBColor = RGBColor(176, 72, 10);
const SEA: RGBColor = RGBColor(0, 122, 104);
const PALE: RGBColor = RGBColor(205, 224, 240);
const DARK: RGBColor = RGBColor(72, 66, 120);
const EARTH: RGBColor = RGBColor(214, 164, 92);
const GREY: RGBColor = RGBColor(80, 80, 80);
const MEASURES: [RGBColor; 5] = [
    RGBColor(22, 48, 110),
    RGBColor(196, 92, 16),
    RGBColor(0, 138, 116),
    RGBColor(160, 60, 130),
    RGBColor(120, 98, 0),
];
type Points = Vec<(f64, f64)>;
type Dash = Option<(i32, i32)>;
/// Pixels drawn and left out.
const DASHES: [Dash; 3] = [None, Some((9, 4)), Some((2, 4))];
const LONG: Dash = Some((12, 5));
const DOTS: Dash = Some((2, 4));

pub fn svg(story: &Story) -> Result<String, Box<dyn Error>> {
    let mut svg = String::new();
    draw(
        &SVGBackend::with_string(&mut svg, SIZE).into_drawing_area(),
        story,
    )?;
    // The size in pixels that a viewer is told.
    let drawn = format!("width=\"{WIDTH}\" height=\"{HEIGHT}\"");
    let shown = format!("width=\"{}\" height=\"{}\"", WIDTH / UNITS, HEIGHT / UNITS);
    Ok(svg.replacen(&drawn, &shown, 1))
}

fn draw(root: &Area, story: &Story) -> Drawn {
    root.fill(&WHITE)?;
    let title = "A year of ledger ink in one bottle";
    root.draw_text(title, &font(25), (px(22), px(14)))?;
    let bottle = format!(
        "{FILL_ML} mL in a {CAPACITY_ML} mL bottle at {CELSIUS} °C, drink-bottle cap, opened every \
         {OPENED_EVERY_DAYS} days, {DRAWN_ML} mL drawn each time"
    );
    root.draw_text(&bottle, &font(15).color(&GREY), (px(22), px(50)))?;
    let (_, rest) = root.split_vertically(HEAD);
    let (losses, rest) = rest.split_vertically(PANELS[0]);
    let (measures, rest) = rest.split_vertically(PANELS[1]);
    let (contents, foot) = rest.split_vertically(PANELS[2]);
    draw_losses(&losses, story)?;
    draw_measures(root, &measures, story)?;
    draw_contents(&contents, story)?;
    let notes = [
        "The bound is the reliable figure. No rate was ever published for iron, tannin and oxygen at the pH of ink:",
        "the estimate is good to an order of magnitude. Nobody measured this bottle.",
    ];
    for (note, y) in notes.iter().zip([8, 30]) {
        foot.draw_text(note, &font(15), (px(22), px(y)))?;
    }
    root.present()?;
    Ok(())
}

// The three panels.

fn draw_losses(area: &Area, story: &Story) -> Drawn {
    let (plot, legend) = titled(area, "How much of the iron(II) is gone")?;
    let mut chart = axes(
        &plot,
        0.0..12.0,
        13,
        "months since filling",
        "iron(II) gone, %",
    )?;
    let year = &story.year;
    let line_of = |of: &dyn Fn(usize) -> f64| -> Points {
        let days = (0..year.len()).map(|i| (months(i), 100.0 * of(i)));
        days.collect()
    };
    let low = line_of(&|i| year[i].lost.low.value());
    let high = line_of(&|i| year[i].lost.high.value());
    let typical = line_of(&|i| year[i].typical.lost.value());
    let bound = line_of(&|i| year[i].bound.value());
    let floor = line_of(&|i| year[i].floor.value());
    let band = between(&low, &high);
    chart.draw_series([Polygon::new(band, BAND.filled())])?;
    stroke(&mut chart, bound, RUST, LONG)?;
    stroke(&mut chart, floor, SEA, DOTS)?;
    stroke(&mut chart, typical, INK, None)?;
    let end = &story.forecast;
    let estimate = &end.estimate;
    let rows = [
        (
            RUST,
            LONG,
            "bound",
            percent(end.bound.share_after_duration.value()),
        ),
        (
            INK,
            None,
            "estimate",
            percent(estimate.typical.lost.value()),
        ),
        (SEA, DOTS, "floor", percent(end.floor.lost.value())),
    ];
    let meanings = [
        "all oxygen that can have come in",
        "the model's single figure",
        "iron and oxygen, no tannin",
    ];
    let mut y = px(26);
    legend.draw_text("after the year", &small(HPos::Right), (px(290), y))?;
    for ((colour, dash, name, figure), meaning) in rows.iter().zip(meanings) {
        y += px(34);
        swatch(&legend, y, *colour, *dash)?;
        legend.draw_text(name, &left(16), (px(58), y))?;
        let right = left(16).pos(Pos::new(HPos::Right, VPos::Center));
        legend.draw_text(figure, &right, (px(290), y))?;
        y += px(20);
        legend.draw_text(meaning, &small(HPos::Left), (px(58), y))?;
        if *name == "estimate" {
            y += px(30);
            let tile = [(px(8), y - px(9)), (px(48), y + px(9))];
            legend.draw(&Rectangle::new(tile, BAND.filled()))?;
            let range = format!(
                "{} to {}",
                percent(estimate.lost.low.value()),
                percent(estimate.lost.high.value())
            );
            legend.draw_text("95 % of draws", &left(16), (px(58), y))?;
            legend.draw_text(&range, &right, (px(290), y))?;
        }
    }
    Ok(())
}

fn draw_measures(root: &Area, area: &Area, story: &Story) -> Drawn {
    let last = story.trial.in_days();
    let title = format!(
        "What each measure does in the first {last:.0} days, by the estimate's single figure"
    );
    let (plot, _) = titled(area, &title)?;
    let highest = story.without.iter().copied().fold(0.0, f64::max);
    let top = (highest * 10.0 + 0.5).ceil() * 10.0;
    let mut chart = axes_to(
        &plot,
        0.0..last,
        6,
        top,
        "days since filling",
        "iron(II) gone, %",
    )?;
    let points = |lost: &[f64]| -> Points {
        let days = story.trial_days.iter().zip(lost);
        days.map(|(d, l)| (*d, 100.0 * l)).collect()
    };
    let mut lines: Vec<(String, RGBColor, Dash, Points)> = Vec::new();
    lines.push(("as it is".to_owned(), BLACK, None, points(&story.without)));
    for (i, with) in story.with.iter().enumerate() {
        let colour = MEASURES[i % MEASURES.len()];
        let dash = DASHES[(i / MEASURES.len()) % DASHES.len()];
        lines.push((name_of(&with.measure), colour, dash, points(&with.lost)));
    }
    for (_, colour, dash, points) in lines.iter().rev() {
        stroke(&mut chart, points.clone(), *colour, *dash)?;
    }
    // Each name stands at the end of its line, or as near as there is room.
    const ROW: i32 = px(24);
    let end_of = |points: &[(f64, f64)]| points.last().copied().unwrap_or_default();
    lines.sort_by(|a, b| end_of(&b.3).1.total_cmp(&end_of(&a.3).1));
    let ends: Vec<(i32, i32)> = lines
        .iter()
        .map(|l| chart.backend_coord(&end_of(&l.3)))
        .collect();
    let (_, bottom) = chart.backend_coord(&(0.0, 0.0));
    let rows = spaced(&ends.iter().map(|e| e.1).collect::<Vec<_>>(), ROW, bottom);
    for (((name, colour, dash, points), end), y) in lines.iter().zip(&ends).zip(rows) {
        let x = end.0;
        let leader = [(x + px(2), end.1), (x + px(16), y), (x + px(22), y)];
        root.draw(&PathElement::new(leader, line(GREY.mix(0.7), 1)))?;
        dashes(root, x + px(24), x + px(54), y, *colour, *dash)?;
        let words = format!("{name}, {}", percent(end_of(points).1 / 100.0));
        root.draw_text(&words, &left(14), (x + px(60), y))?;
    }
    Ok(())
}

fn draw_contents(area: &Area, story: &Story) -> Drawn {
    let (plot, legend) = titled(
        area,
        "What is in the bottle, by the estimate's single figure",
    )?;
    let y_title = "share of what was filled in, %";
    let mut chart = axes(&plot, 0.0..12.0, 13, "months since filling", y_title)?;
    let iron_ii = story.ink.iron_ii().value;
    let iron = iron_ii + story.ink.iron_iii().value;
    let (mut one, mut two, mut three) = (Vec::new(), Vec::new(), Vec::new());
    let (mut nothing, mut tannin) = (Vec::new(), Vec::new());
    for (i, point) in story.year.iter().enumerate() {
        let now = &point.typical;
        let x = months(i);
        let dissolved = iron_ii * (1.0 - now.lost.value());
        let dark = dissolved + now.iron_iii.value;
        nothing.push((x, 0.0));
        one.push((x, 100.0 * dissolved / iron));
        two.push((x, 100.0 * dark / iron));
        three.push((x, 100.0 * (dark + now.sediment.value) / iron));
        tannin.push((x, 100.0 * tannin_left(story, now)));
    }
    let layers = [
        (&nothing, &one, PALE, "iron(II), dissolved"),
        (&one, &two, DARK, "iron(III), dissolved"),
        (&two, &three, EARTH, "iron(III), settled"),
    ];
    for (under, over, colour, _) in layers {
        chart.draw_series([Polygon::new(between(under, over), colour.filled())])?;
    }
    stroke(&mut chart, tannin, WHITE, None)?;
    let tannin = story.year.iter().enumerate();
    let tannin = tannin.map(|(i, p)| (months(i), 100.0 * tannin_left(story, &p.typical)));
    stroke(&mut chart, tannin.collect(), BLACK, LONG)?;
    let mut y = px(26);
    for (_, _, colour, name) in layers.iter().rev() {
        let tile = [(px(8), y - px(9)), (px(48), y + px(9))];
        legend.draw(&Rectangle::new(tile, colour.filled()))?;
        legend.draw_text(name, &left(16), (px(58), y))?;
        y += px(32);
    }
    swatch(&legend, y, BLACK, LONG)?;
    legend.draw_text("tannin still dissolved", &left(16), (px(58), y))?;
    y += px(20);
    legend.draw_text(
        "each iron that settles takes",
        &small(HPos::Left),
        (px(58), y),
    )?;
    y += px(18);
    legend.draw_text(
        "one of its galloyl units along",
        &small(HPos::Left),
        (px(58), y),
    )?;
    Ok(())
}

// What they are drawn with.

fn font(pixels: i32) -> TextStyle<'static> {
    ("sans-serif", px(pixels)).into_text_style(&SIZE)
}

fn left(pixels: i32) -> TextStyle<'static> {
    font(pixels).pos(Pos::new(HPos::Left, VPos::Center))
}

fn small(side: HPos) -> TextStyle<'static> {
    font(14).color(&GREY).pos(Pos::new(side, VPos::Center))
}

fn line(colour: impl Color, pixels: i32) -> ShapeStyle {
    colour.stroke_width(px(pixels) as u32)
}

/// Months since filling of a point of the year, of which there are 12.
fn months(day: usize) -> f64 {
    12.0 * day as f64 / f64::from(YEAR_DAYS)
}

/// Under its title, room for the plot and for its legend.
fn titled<'a>(area: &Area<'a>, title: &str) -> Result<(Area<'a>, Area<'a>), Box<dyn Error>> {
    area.draw_text(title, &font(18), (px(22), px(4)))?;
    let (_, below) = area.split_vertically(TITLE);
    Ok(below.split_horizontally(WIDTH - LEGEND))
}

fn axes<'a, 'b>(
    area: &'a Area<'b>,
    x: Range<f64>,
    ticks: usize,
    x_title: &str,
    y_title: &str,
) -> Result<Chart<'a, 'b>, Box<dyn Error>> {
    axes_to(area, x, ticks, 100.0, x_title, y_title)
}

fn axes_to<'a, 'b>(
    area: &'a Area<'b>,
    x: Range<f64>,
    ticks: usize,
    top: f64,
    x_title: &str,
    y_title: &str,
) -> Result<Chart<'a, 'b>, Box<dyn Error>> {
    let mut chart = ChartBuilder::on(area)
        .margin(px(6))
        .margin_left(px(16))
        .margin_top(px(10))
        .margin_bottom(px(18))
        .x_label_area_size(px(46))
        .y_label_area_size(px(58))
        // Lines along the edge are drawn whole.
        .build_cartesian_2d(x, 0.0..top * 1.01)?;
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(line(BLACK.mix(0.12), 1))
        .axis_style(line(BLACK, 1))
        .set_all_tick_mark_size(px(5))
        .x_labels(ticks)
        .y_labels(6)
        .x_desc(x_title)
        .y_desc(y_title)
        .x_label_formatter(&|x| format!("{x:.0}"))
        .y_label_formatter(&|y| format!("{y:.0}"))
        .label_style(font(15))
        .axis_desc_style(font(16))
        .draw()?;
    Ok(chart)
}

fn stroke(chart: &mut Chart, points: Points, colour: RGBColor, dash: Dash) -> Drawn {
    let style = line(colour, 2);
    match dash {
        None => chart.draw_series(LineSeries::new(points, style))?,
        Some((drawn, left_out)) => chart.draw_series(DashedLineSeries::new(
            points,
            px(drawn),
            px(left_out),
            style,
        ))?,
    };
    Ok(())
}

/// The outline of what lies between two lines.
fn between(low: &[(f64, f64)], high: &[(f64, f64)]) -> Points {
    low.iter().chain(high.iter().rev()).copied().collect()
}

fn swatch(area: &Area, y: i32, colour: RGBColor, dash: Dash) -> Drawn {
    dashes(area, px(8), px(48), y, colour, dash)
}

fn dashes(area: &Area, from: i32, to: i32, y: i32, colour: RGBColor, dash: Dash) -> Drawn {
    let (drawn, left_out) = dash.map_or((to - from, 1), |(d, l)| (px(d), px(l)));
    let mut x = from;
    while x < to {
        let piece = [(x, y), ((x + drawn).min(to), y)];
        area.draw(&PathElement::new(piece, line(colour, 2)))?;
        x += drawn + left_out;
    }
    Ok(())
}

/// Places near the wanted ones, falling, a row apart and none below the last.
fn spaced(wanted: &[i32], row: i32, lowest: i32) -> Vec<i32> {
    let mut places = wanted.to_vec();
    for i in 1..places.len() {
        places[i] = places[i].max(places[i - 1] + row);
    }
    let mut ceiling = lowest;
    for place in places.iter_mut().rev() {
        *place = (*place).min(ceiling);
        ceiling = *place - row;
    }
    places
}
