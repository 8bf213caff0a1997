//! Many inks from one cupboard, through the C surface.

use super::forecasts::bits;
use super::made::*;
use super::room::*;
use core::ptr::{null, null_mut};
use ferrogall::capi::*;
use ferrogall::formulate::{Objective, Wanted};
use ferrogall::quantity::*;

const ROWS: usize = 24;

fn column(numbers: &[f64]) -> FgallColumn {
    FgallColumn {
        data: numbers.as_ptr(),
        stride_bytes: 8,
    }
}

struct Answer {
    rows: Vec<[f64; 6]>,
    masses: Vec<Vec<f64>>,
    status: Vec<u32>,
    bad: usize,
}

/// Rows packed 49 bytes apart, backwards; masses in a table a row.
fn ask(bags: &Bags, wanted: &FgallWanted, varied: &[u32], values: &[FgallColumn]) -> Answer {
    let lots = bags.stores.len();
    let mut packed = vec![0x55u8; 49 * ROWS];
    let last = packed.as_mut_ptr().wrapping_add(49 * (ROWS - 1));
    let mut table = vec![7.0; lots * ROWS];
    let to: Vec<FgallOutColumn> = (0..lots)
        .map(|lot| FgallOutColumn {
            data: table.as_mut_ptr().wrapping_add(lot),
            stride_bytes: 8 * lots as isize,
        })
        .collect();
    let (mut status, mut bad) = (vec![99; ROWS], 99);
    let mut error: FgallError = init();
    // SAFETY: a live handle; every column has ROWS numbers, the results room
    // for as many.
    let done = unsafe {
        fgall_shelf_make_rows(
            bags.shelf,
            &bags.cupboard(),
            wanted,
            FGALL_OBJECTIVE_LEAST_COST,
            null(),
            varied.as_ptr(),
            values.as_ptr(),
            values.len(),
            to.as_ptr(),
            ROWS,
            last.cast(),
            -49,
            status.as_mut_ptr(),
            4,
            &mut bad,
            &mut error,
        )
    };
    assert_eq!(done, FGALL_OK, "{}", words(&error.message));
    let figure = |row: usize, k: usize| {
        let at = 49 * (ROWS - 1 - row) + 8 * k;
        f64::from_ne_bytes(packed[at..at + 8].try_into().unwrap())
    };
    Answer {
        rows: (0..ROWS)
            .map(|row| core::array::from_fn(|k| figure(row, k)))
            .collect(),
        masses: table.chunks(lots).map(<[f64]>::to_vec).collect(),
        status,
        bad,
    }
}

/// Both volumes, one end and both ends of windows, cost and assurance, all varied.
#[test]
fn many_rows_have_the_bits_of_one_ink_alone() {
    let (bags, shelf) = (Bags::new(), here());
    let volume: Vec<f64> = (0..ROWS).map(|i| 100.0 + 17.3 * i as f64).collect();
    let most: Vec<f64> = volume.iter().map(|ml| ml * 1.1).collect();
    let mut iron: Vec<f64> = (0..ROWS).map(|i| 1.0 + 0.11 * i as f64).collect();
    let gum: Vec<f64> = (0..ROWS).map(|i| 2.0 + 0.3 * i as f64).collect();
    let money: Vec<f64> = (0..ROWS).map(|i| 1.0 + 0.5 * i as f64).collect();
    let sure: Vec<f64> = (0..ROWS).map(|i| 0.5 + 0.02 * i as f64).collect();
    (iron[5], iron[9], iron[13]) = (f64::NAN, -1.0, f64::INFINITY);
    let wanted = FgallWanted {
        criterion: ONE.as_ptr(),
        ..asked()
    };
    let varied = [
        FGALL_WANTED_VOLUME,
        FGALL_WANTED_MOST_VOLUME,
        FGALL_WANTED_IRON | FGALL_WANTED_LOW,
        FGALL_WANTED_GUM,
        FGALL_WANTED_COST,
        FGALL_WANTED_ASSURANCE,
    ];
    let values = [&volume, &most, &iron, &gum, &money, &sure].map(|v| column(v));
    let answer = ask(&bags, &wanted, &varied, &values);
    assert_eq!(answer.bad, 3);
    let (mut met, mut missed) = (0, 0);
    for i in 0..ROWS {
        let expected = match i {
            5 => FGALL_INPUT_NAN,
            9 | 13 => FGALL_OUT_OF_RANGE,
            _ => FGALL_OK,
        };
        assert_eq!(answer.status[i], expected, "row {i}");
        if expected != FGALL_OK {
            let row = answer.rows[i].iter().chain(&answer.masses[i]);
            assert!(row.clone().all(|x| x.is_nan()), "row {i}");
            continue;
        }
        let most = milliliters(volume[i] * 1.1);
        let rust: Wanted = asked_here()
            .in_volume(milliliters(volume[i])..=most)
            .and_then(|w| w.iron(grams_per_liter(iron[i])..=grams_per_liter(4.0)))
            .and_then(|w| w.gum(grams_per_liter(gum[i])))
            .and_then(|w| w.costing_at_most(money[i]))
            .and_then(|w| w.sure_of(&one(), sure[i]))
            .unwrap();
        let rust = shelf.make(&rust, Objective::LeastCost).unwrap();
        let [cost, waste, weighings, misses, worst, ml] = answer.rows[i];
        bits(ml, rust.volume.in_milliliters());
        bits(cost, rust.cost.unwrap());
        bits(waste, rust.waste.in_grams());
        assert_eq!(weighings, rust.weighings as f64);
        assert_eq!(misses, rust.missed().count() as f64);
        assert_eq!(worst == 0.0, rust.meets_all());
        let of_rust = shelf.masses_in(&rust);
        for (c, rust) in answer.masses[i].iter().zip(of_rust) {
            bits(*c, rust.in_grams());
        }
        *(if rust.meets_all() {
            &mut met
        } else {
            &mut missed
        }) += 1;
    }
    assert!(met > 3 && missed > 3, "{met} met, {missed} missed");
}

#[test]
fn a_bad_question_is_no_bad_row() {
    let bags = Bags::new();
    let one = 3.0;
    let values = [column(&[one])];
    let make = |there: &FgallCupboard, wanted: &FgallWanted, code: u32, count: usize| {
        let mut rows = core::mem::MaybeUninit::<FgallMadeRow>::uninit();
        let (mut status, mut error) = (99, init::<FgallError>());
        // SAFETY: a live handle and locals.
        let done = unsafe {
            fgall_shelf_make_rows(
                bags.shelf,
                there,
                wanted,
                FGALL_OBJECTIVE_CLOSEST,
                null(),
                &code,
                values.as_ptr(),
                count,
                null(),
                1,
                rows.as_mut_ptr(),
                48,
                &mut status,
                4,
                null_mut(),
                &mut error,
            )
        };
        (done, words(&error.argument), status)
    };
    let there = bags.cupboard();
    let none = |argument: &str, status| (status, argument.to_string(), 99);
    // What stands in the way of every row, or means nothing.
    for code in [
        0,
        3,
        65536,
        FGALL_WANTED_LOW,
        FGALL_WANTED_IRON | FGALL_WANTED_LOW | FGALL_WANTED_HIGH,
        FGALL_WANTED_VOLUME | FGALL_WANTED_LOW,
        FGALL_WANTED_COST | FGALL_WANTED_HIGH,
        u32::MAX,
    ] {
        let told = make(&there, &asked(), code, 1);
        assert_eq!(told, none("varied", FGALL_FOREIGN_VALUE), "{code}");
    }
    let sure = make(&there, &asked(), FGALL_WANTED_ASSURANCE, 1);
    assert_eq!(sure, none("criterion", FGALL_NULL_POINTER));
    let backwards = FgallWanted {
        iron_g_per_l: between(4.0, 3.0),
        ..asked()
    };
    let told = make(&there, &backwards, FGALL_WANTED_DYE, 1);
    assert_eq!(told, none("iron_g_per_l.low", FGALL_OUT_OF_RANGE));
    assert_eq!(
        make(&there, &asked(), FGALL_WANTED_DYE, usize::MAX).0,
        FGALL_OUT_OF_RANGE
    );
    // What stands in the way of the shelf is in every row.
    let twice = [bags.stores[0]; 2];
    let twice = FgallCupboard {
        stores: twice.as_ptr(),
        store_count: 2,
        ..there
    };
    let (done, _, status) = make(&twice, &asked(), FGALL_WANTED_DYE, 1);
    assert_eq!((done, status), (FGALL_OK, FGALL_NAME_TAKEN));
    // Nothing varied: the ink itself.
    let (done, _, status) = make(&there, &asked(), FGALL_WANTED_DYE, 0);
    assert_eq!((done, status), (FGALL_OK, FGALL_OK));
}
