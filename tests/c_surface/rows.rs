//! Columns of many rows, on as many cores as there are.

use super::room::*;
use super::twin::*;
use core::ptr::null_mut;
use ferrogall::capi::*;
use ferrogall::recipe::ColumnPlan;

/// More rows than one core is given at a time, in columns of odd strides.
#[test]
fn many_rows_have_the_bits_of_one_row_alone() {
    const ROWS: usize = 20_000;
    let room = Room::new();
    let (lots, mut columns) = ([VITRIOL, TANNIN], null_mut());
    let plan = {
        let recipe = twin();
        let lines = &recipe.evaluate().unwrap().lines;
        let of = |name| lines.iter().find(|l| l.lot.name() == name).unwrap().lot;
        let chosen = [of("vitriol"), of("tannic acid")];
        ColumnPlan::new(&chosen, of("water")).unwrap()
    };
    let vitriol = |i: usize| match i % 101 {
        7 => f64::NAN,
        11 => -1.0,
        _ => 5.0 + (i % 977) as f64 * 0.037,
    };
    let tannin: Vec<f64> = (0..ROWS).map(|i| 3.0 + (i % 613) as f64 * 0.011).collect();
    let mut packed = vec![0u8; 1 + 11 * ROWS];
    for i in 0..ROWS {
        packed[1 + 11 * i..][..8].copy_from_slice(&vitriol(i).to_ne_bytes());
    }
    let masses = [
        FgallColumn {
            data: packed[1..].as_ptr().cast(),
            stride_bytes: 11,
        },
        FgallColumn {
            data: tannin.as_ptr(),
            stride_bytes: 8,
        },
    ];
    let volume = 1000.0;
    let make_up = FgallColumn {
        data: &volume,
        stride_bytes: 0,
    };
    let stride = size_of::<FgallRow>();
    let mut rows = vec![0u8; stride * ROWS];
    let (mut status, mut bad) = (vec![99u32; ROWS], 0);
    // Written from the last row to the first.
    let last = rows.as_mut_ptr().wrapping_add(stride * (ROWS - 1));
    // SAFETY: live handles; every column has ROWS numbers, the results have
    // room for as many.
    let done = unsafe {
        let (shelf, e) = (room.shelf, null_mut);
        let new = fgall_columns_new(shelf, lots.as_ptr(), 2, WATER, &mut columns, e());
        assert_eq!(new, FGALL_OK);
        let done = fgall_columns_evaluate(
            columns,
            masses.as_ptr(),
            2,
            &make_up,
            ROWS,
            last.cast(),
            -(stride as isize),
            status.as_mut_ptr(),
            4,
            &mut bad,
            e(),
        );
        fgall_columns_free(columns);
        done
    };
    assert_eq!(done, FGALL_OK);
    assert_eq!(bad, status.iter().filter(|s| **s != FGALL_OK).count());
    assert_eq!(
        bad,
        (0..ROWS).filter(|i| [7, 11].contains(&(i % 101))).count()
    );
    for (i, tannin) in tannin.iter().enumerate() {
        let (one, _) = plan.row(|lot| [vitriol(i), *tannin][lot], volume);
        let at = stride * (ROWS - 1 - i);
        let figure = |k: usize| {
            let bytes = rows[at + 8 * k..][..8].try_into().unwrap();
            u64::from_ne_bytes(bytes)
        };
        let expected = [
            one.volume_ml,
            one.mass_g,
            one.make_up_g,
            one.iron_ii_mol_per_l,
        ];
        for (k, x) in expected.iter().enumerate() {
            assert_eq!(figure(k), x.to_bits(), "row {i}, figure {k}");
        }
        assert_eq!(figure(14), one.cost.to_bits(), "row {i}");
    }
}
