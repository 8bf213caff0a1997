//! Rows of columns are worked out without touching the heap.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]
// A counting allocator cannot be written otherwise.
#![allow(unsafe_code)]

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

use ferrogall::bench::Lot;
use ferrogall::oxidation::{
    Air, Contents, Course, ForecastColumns, ForecastRow, Kinetics, SecondOrder, StoredInk, Varied,
    Vessel,
};
use ferrogall::paper::{Climate, Paper, Span, Writing};
use ferrogall::quantity::{Share, days, liters, milliliters, millimoles, moles_per_liter};
use ferrogall::recipe::{ColumnPlan, RowResult, RowStatus};
use ferrogall::standards::reference_ink;

thread_local! {
    // Per thread: the test harness allocates in its own. No destructor, no
    // lazy start, so that it may be read from inside the allocator.
    static COUNT: Cell<u64> = const { Cell::new(0) };
}

struct Counting;

fn count() {
    // A thread that is going away may have no counter any more.
    let _ = COUNT.try_with(|c| c.set(c.get() + 1));
}

// SAFETY: every call is handed to the system allocator unchanged; the counter
// is a plain thread-local integer and allocates nothing itself.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count();
        unsafe { System.alloc(layout) }
    }

    unsafe fn alloc_zeroed(&self, layout: Layout) -> *mut u8 {
        count();
        unsafe { System.alloc_zeroed(layout) }
    }

    unsafe fn realloc(&self, ptr: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        count();
        unsafe { System.realloc(ptr, layout, size) }
    }

    unsafe fn dealloc(&self, ptr: *mut u8, layout: Layout) {
        unsafe { System.dealloc(ptr, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

fn allocations<T>(work: impl FnOnce() -> T) -> (T, u64) {
    let before = COUNT.with(Cell::get);
    let out = work();
    (out, COUNT.with(Cell::get) - before)
}

#[test]
fn the_counter_counts() {
    let (boxed, one) = allocations(|| Box::new(7_u64));
    assert_eq!((*boxed, one), (7, 1));
    let (grown, several) = allocations(|| {
        let mut v = Vec::new();
        v.extend(0..10);
        v.extend(0..10_000);
        v
    });
    assert_eq!(grown.len(), 10_010);
    assert!(several >= 2);
    let (_, lot) = allocations(|| Lot::of("aleppo_galls").unwrap().build().unwrap());
    assert!(lot > 0); // a name, and what was assumed
    assert_eq!(allocations(|| 1 + 1), (2, 0));
}

#[test]
fn ten_thousand_rows_allocate_nothing() {
    const ROWS: usize = 10_000;
    let lot = |id: &str| Lot::of(id).unwrap().build().unwrap();
    let lots = [
        "iron_ii_sulfate_heptahydrate",
        "tannic_acid",
        "gallic_acid_monohydrate",
        "hydrochloric_acid",
        "gum_arabic",
        "phenol",
        "soluble_blue",
    ]
    .map(lot);
    let water = lot("hard_tap_water");
    let plan = ColumnPlan::new(&lots.each_ref(), &water).unwrap();
    let mut column = |k: usize| -> Vec<f64> { (0..ROWS).map(|i| (i % (k + 3)) as f64).collect() };
    let mut masses: Vec<Vec<f64>> = (0..lots.len()).map(&mut column).collect();
    // Bad rows as well: not a number, negative, infinite, too much.
    masses[0][17] = f64::NAN;
    masses[1][18] = -1.0;
    masses[2][19] = f64::INFINITY;
    masses[3][20] = 5_000.0;
    let columns: Vec<&[f64]> = masses.iter().map(Vec::as_slice).collect();
    let make_up = vec![1000.0; ROWS];
    let mut rows = vec![RowResult::NAN; ROWS];
    let mut status = vec![RowStatus::Empty; ROWS];
    let (rows_done, made) =
        allocations(|| plan.evaluate(&columns, &make_up, &mut rows, &mut status));
    assert!(rows_done.is_ok());
    assert_eq!(made, 0, "allocations in {ROWS} rows");
    let good = status.iter().filter(|s| **s == RowStatus::Ok).count();
    assert_eq!(good, ROWS - 4);
    assert_eq!(status[17], RowStatus::InputNan);
    assert_eq!(status[18], RowStatus::OutOfRange);
    assert_eq!(status[19], RowStatus::OutOfRange);
    assert_eq!(status[20], RowStatus::TooMuchForVolume);
    assert!(rows[0].volume_ml > 0.0);
}

#[test]
fn the_darkening_of_a_line_allocates_nothing() {
    let standard = reference_ink("us_federal_writing_1935").unwrap();
    let recipe = standard.recipe(liters(1.0), 1.0).unwrap();
    let ink = recipe.evaluate().unwrap().composition;
    let rag = Paper::of("cotton_rag").unwrap();
    let line = Writing::new(&ink, rag, Climate::indoors().unwrap()).unwrap();
    let times: Vec<_> = (1..40).map(|d| days(f64::from(d))).collect();
    let none = Span {
        low: Share::ZERO,
        typical: Share::ZERO,
        high: Share::ZERO,
    };
    let mut oxidised = vec![none; times.len()];
    let (answer, made) = allocations(|| line.oxidised_at(&times, &mut oxidised));
    assert_eq!((answer, made), (Ok(()), 0));
    let (curve, made) = allocations(|| line.darkening());
    assert_eq!(made, 0);
    assert!(curve.unwrap().curve[15].oxidised.high > oxidised[0].low);
}

/// A year with 52 openings, and many bottles one after the other.
#[test]
fn a_course_allocates_nothing_and_rows_of_bottles_only_room_for_openings() {
    let ink = StoredInk::new(moles_per_liter(0.054), moles_per_liter(0.05), 2.2).unwrap();
    let used = ink
        .bottle(milliliters(40.0), milliliters(30.0))
        .opened_every(days(7.0))
        .drawn_per_opening(milliliters(0.3));
    let bottle = used.build().unwrap();
    let vessel = Vessel::closed(milliliters(30.0), milliliters(10.0), Air::standard()).unwrap();
    let k = Kinetics::builder()
        .oxidation(SecondOrder::l_per_mol_s(0.02).unwrap())
        .build()
        .unwrap();
    let contents = Contents::iron(millimoles(1.62)).saturated(&vessel);
    let events = bottle.events().unwrap();
    let course = Course::new(vessel, k, contents)
        .with_events(&events)
        .unwrap();
    let times = [days(30.0), days(365.0)];
    let (summary, count) = allocations(|| course.walk(&times, |_, _| ()).unwrap());
    assert!(summary.steps > 52);
    assert_eq!(count, 0);

    let plan = ForecastColumns::new(&ink, used, 5).unwrap();
    let rows_of = |n: usize| {
        let fills: Vec<f64> = (0..n).map(|i| 20.0 + 0.1 * i as f64).collect();
        let mut rows = vec![ForecastRow::NAN; n];
        let mut status = vec![RowStatus::Ok; n];
        let work = || plan.rows(&[Varied::Fill], &[&fills], &mut rows, &mut status);
        let (done, count) = allocations(work);
        assert_eq!(done, n);
        count
    };
    assert_eq!(rows_of(40), rows_of(4));
}
