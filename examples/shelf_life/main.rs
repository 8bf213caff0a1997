//! probe
#[path = "../bindery/mod.rs"]
mod bindery;
use ferrogall::oxidation::*;
use ferrogall::quantity::*;
use ferrogall::equilibrium::*;
fn main() -> Result<(), Box<dyn std::error::Error>> {
    let c = bindery::ledger_ink()?.evaluate()?.composition;
    let mut solver = Solver::new(ConstantSet::reviewed(), celsius(20.0))?;
    let ink = StoredInk::of(&c, &mut solver)?;
    println!("{:?} {:?} {:?} pH {}", ink.iron_ii(), ink.iron_iii(), ink.galloyl(), ink.ph());
    for id in ["drink_bottle_cap","breathing","sealed_glass"] {
        let t = std::time::Instant::now();
        let mut b = ink.bottle(milliliters(40.0), milliliters(30.0)).at_temperature(celsius(20.0))?.opened_every(days(7.0)).drawn_per_opening(milliliters(0.5));
        if let Some(row) = closures().iter().find(|c| c.id == id) { b = b.closure(Closure::of(row)); } else { b = b.breathing(celsius(18.0), celsius(22.0), days(1.0)); }
        let b = b.build()?;
        let f = Forecast::of(&ink, &b)?;
        println!("{id} {:?}\n bound {:?} {:?}\n est {:?}\n floor {:?} \n {:?}", f.bound.openings, f.bound.share_after_duration, f.bound.time_to_share, f.estimate, f.floor, t.elapsed());
        for d in [7.0,30.,90.,180.,365.] { let o=Forecaster::new(&ink,&b)?.outcomes(&[days(d)])?[0]; println!("{d} {:?} pH {}", o, ink.chemistry(&o,&mut solver)?.ph); }
        println!("{:?}", Forecaster::new(&ink,&b)?.curve(&[0.,7.,30.,90.,180.,365.].map(days), 99)?.iter().map(|p| (p.bound.value(), p.typical.lost.value(), p.lost.low.value(), p.lost.high.value(), p.floor.value())).collect::<Vec<_>>());
        for m in rank_measures(&ink,&b,&Measure::usual(&ink,&b),39)? { println!("{} {:.3} {:?} bound {:?}", m.measure.in_words(), m.saved, m.saved_spread, m.bound); }
        println!("{:?}", t.elapsed());
    }
    Ok(())
}
