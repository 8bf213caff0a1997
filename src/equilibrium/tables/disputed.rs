//! Constants over which compilations disagree.
//!
//! A source that states no span of its own gets ± 0.05; the gallate values of
//! 1972, read through acid constants not their own, ± 1. Minus infinity means
//! that the source knows no such species.

use super::{Dispute, Opinion};

/// A value and the half width its source states.
const fn about(log_k: f64, half: f64, citation: &'static str) -> Opinion {
    Opinion {
        low: log_k - half,
        high: log_k + half,
        citation,
    }
}

/// A value without a stated span.
const fn said(log_k: f64, citation: &'static str) -> Opinion {
    about(log_k, 0.05, citation)
}

/// The species left out.
const fn absent(citation: &'static str) -> Opinion {
    Opinion {
        low: f64::NEG_INFINITY,
        high: f64::NEG_INFINITY,
        citation,
    }
}

const fn dispute(species: &'static str, opinions: &'static [Opinion]) -> Dispute {
    Dispute { species, opinions }
}

const BROWN_EKBERG: &str = "Brown & Ekberg 2016";
const BAES_MESMER: &str = "Baes & Mesmer 1976";
const NEA: &str = "Lemire et al. 2013 (NEA)";
const NIST: &str = "NIST SRD 46";
const WATEQ4F: &str = "wateq4f";
const THERMOCHIMIE: &str = "ThermoChimie 12a";
const THERMODDEM: &str = "Thermoddem 1.10";
const CIAVATTA: &str = "Ciavatta et al. 2002";
const MILLERO: &str = "Millero et al. 1995";
const LOGINOVA: &str = "Loginova et al. 1972";
const ANALOGY: &str = "estimate from catechol and protocatechuic acid";
const SITE: &str = "estimate from gallate and catechol";

#[rustfmt::skip]
pub(crate) const DISPUTED: &[Dispute] = &[
    // iron(III) and water
    dispute("Fe(OH)2+", &[
        about(-5.71, 0.10, BROWN_EKBERG),
        said(-5.67, BAES_MESMER),
        about(-4.8, 0.4, NEA),
        said(-4.594, NIST),
    ]),
    dispute("Fe(OH)3", &[
        about(-12.42, 0.20, BROWN_EKBERG),
        said(-12.56, "Nordstrom et al. 1990"),
        Opinion { low: -16.0, high: -14.0, citation: NEA },
    ]),
    // iron(II) and water
    dispute("FeOH+", &[
        about(-9.43, 0.10, BROWN_EKBERG),
        about(-9.1, 0.4, NEA),
        said(-9.5, BAES_MESMER),
        said(-9.397, NIST),
        said(-9.25, THERMOCHIMIE),
    ]),
    dispute("Fe(OH)2", &[
        about(-20.52, 0.08, BROWN_EKBERG),
        about(-21.2, 1.1, NEA),
        said(-20.6, BAES_MESMER),
        said(-20.494, NIST),
    ]),
    dispute("Fe(OH)3-", &[
        about(-32.68, 0.15, BROWN_EKBERG),
        about(-34.3, 0.2, NEA),
        said(-31.0, BAES_MESMER),
        said(-28.991, NIST),
    ]),
    // sulfate
    dispute("FeSO4", &[
        said(2.44, NEA),
        said(2.39, NIST),
        said(2.25, WATEQ4F),
        said(2.20, "Izatt et al. 1969"),
        said(2.10, CIAVATTA),
    ]),
    dispute("FeSO4+", &[
        said(4.25, NEA),
        said(4.05, NIST),
        said(4.04, WATEQ4F),
        said(4.27, MILLERO),
        said(3.82, CIAVATTA),
    ]),
    dispute("Fe(SO4)2-", &[
        said(6.22, THERMOCHIMIE),
        said(6.11, MILLERO),
        said(5.75, CIAVATTA),
        said(5.38, "Nordstrom et al. 1990"),
    ]),
    // chloride
    dispute("FeCl+", &[
        said(-0.16, "Heinrich & Seward 1990"),
        said(0.14, WATEQ4F),
        said(1.0, THERMOCHIMIE),
        absent("minteq.v4"),
    ]),
    dispute("FeCl+2", &[
        said(1.52, THERMOCHIMIE),
        said(1.48, NIST),
        said(1.28, MILLERO),
    ]),
    dispute("FeCl2+", &[
        said(2.22, THERMOCHIMIE),
        said(2.13, NIST),
        said(0.7, THERMODDEM),
    ]),
    // carbonate
    dispute("FeHCO3+", &[
        said(11.429, NIST),
        said(12.329, WATEQ4F),
        said(11.769, THERMODDEM),
    ]),
    dispute("FeCO3", &[
        said(4.38, WATEQ4F),
        said(5.27, THERMOCHIMIE),
        absent("minteq.v4"),
    ]),
    // citrate
    dispute("FeCitrate", &[said(12.65, THERMOCHIMIE), said(13.1, NIST)]),
    dispute("FeHCitrate+", &[said(13.56, THERMOCHIMIE), said(14.4, NIST)]),
    // gallic acid
    dispute("FeH2Gal+", &[about(2.72, 1.0, LOGINOVA), absent("doubtful: one measurement")]),
    dispute("FeHGal", &[about(-1.11, 1.0, LOGINOVA)]),
    dispute("Fe(HGal)2-3", &[about(-9.08, 1.0, ANALOGY), about(-14.24, 1.0, LOGINOVA)]),
    dispute("Fe(HGal)3-6", &[about(-24.58, 2.0, ANALOGY), absent("beyond the reach of Davies")]),
    dispute("FeHGal-", &[about(-12.81, 1.0, "NIST SRD 46, from 0.1 mol/L")]),
    // tannin sites
    dispute("GalloylO-", &[about(-7.8, 0.4, "Nurchi et al. 2018")]),
    dispute("FeGalloyl+", &[about(-1.1, 1.5, SITE)]),
    dispute("Fe(Galloyl)2-", &[about(-9.1, 1.5, SITE)]),
    dispute("FeGalloyl", &[about(-13.5, 1.5, SITE)]),
];
