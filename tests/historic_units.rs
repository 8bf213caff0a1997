//! The table of old units against its printed source, legal definitions, and
//! its own chains; and what a word may mean by place, year and book.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod table;

use ferrogall::history::*;
use ferrogall::source::Status;
use proptest::prelude::*;
use table::{number, table};

fn size(id: &str) -> f64 {
    unit(id).unwrap_or_else(|| panic!("{id}")).metric_value
}

fn at(place: Place, year: i32) -> Setting {
    Setting::new(place, Years::of(year).unwrap())
}

fn meant(spelling: &str, setting: &Setting) -> Candidates {
    word(spelling)
        .unwrap_or_else(|| panic!("{spelling}"))
        .candidates(setting)
}

fn likeliest(spelling: &str, setting: &Setting) -> (&'static str, f64) {
    let first = meant(spelling, setting).likeliest();
    (first.unit.id, first.size().in_metric())
}

/// The least, the likeliest, the most.
fn in_metric(candidates: &Candidates) -> [f64; 3] {
    let size = candidates.size();
    [size.low, size.typical, size.high].map(Quantity::in_metric)
}

fn ids(candidates: &Candidates) -> Vec<&'static str> {
    candidates.all().iter().map(|c| c.unit.id).collect()
}

/// Half a step of the last of seven digits, which is how the source prints.
fn seven_digits(x: f64) -> f64 {
    0.5 * 10f64.powf(x.log10().floor() - 6.0)
}

#[test]
fn every_row_to_its_printed_digits() {
    let rows = table("historic_units.csv");
    assert_eq!(rows.len(), 159);
    let mut worst: f64 = 0.0;
    for row in &rows {
        let id = row["unit_id"].as_str();
        let unit = unit(id).unwrap_or_else(|| panic!("{id} is missing"));
        let printed = number(row, "metric_value").unwrap();
        let off = (unit.metric_value - printed).abs();
        // A tenth of a digit more: some print a product of rounded factors.
        assert!(
            off <= 1.1 * seven_digits(printed),
            "{id}: {}",
            unit.metric_value
        );
        worst = worst.max(off / printed);
        let (kind, metric) = match unit.kind {
            UnitKind::Mass => ("mass", "g"),
            UnitKind::Volume => ("volume", "mL"),
            UnitKind::Time => ("time", "s"),
        };
        assert_eq!(
            (row["kind"].as_str(), row["metric_unit"].as_str()),
            (kind, metric),
            "{id}"
        );
        if let Ok(percent) = row["rel_uncertainty_pct"].parse::<f64>() {
            assert!((100.0 * unit.relative_u - percent).abs() < 1e-9, "{id}");
        }
        let status: &[Status] = match row["status"].as_str() {
            "definition" | "derived" => &[Status::Computed],
            "seen" => &[Status::Secondary, Status::Published],
            "memory, unconfirmed" => &[Status::FromMemory],
            "estimate" | "assumption" => &[Status::ExpertGuess],
            other => panic!("{other}"),
        };
        assert!(status.contains(&unit.source.status), "{id}");
        assert!(!unit.source.citation.is_empty(), "{id}");
        let years: Vec<&str> = [&row["valid_from"], &row["valid_to"]]
            .into_iter()
            .map(String::as_str)
            .filter(|w| !w.is_empty() && *w != "any")
            .collect();
        assert!(
            years.iter().all(|w| unit.validity.contains(w)),
            "{id}: {}",
            unit.validity
        );
    }
    println!("159 rows, worst deviation {worst:.1e}");
    let from_memory = rows
        .iter()
        .filter(|r| r["status"].starts_with("memory"))
        .count();
    let in_table = |u: &&Unit| rows.iter().any(|r| r["unit_id"] == u.id);
    let told = units()
        .filter(in_table)
        .filter(|u| u.source.status == Status::FromMemory)
        .count();
    assert_eq!((from_memory, told), (24, 24));
    // What the source has only in its notes: livre and once usuelle, two
    // Schoppen, the Lot of any German land.
    assert_eq!(units().count(), 159 + 5);
}

/// NIST Handbook 44, appendix C: the international pound of 1959, the US gallon
/// of 231 cubic inches; Weights and Measures Act 1985: the imperial gallon.
#[test]
fn legal_definitions() {
    for (id, exact) in [
        ("en_av_lb", 453.592_37),
        ("en_grain", 0.064_798_91),
        ("en_av_oz", 28.349_523_125),
        ("en_tr_oz", 31.103_476_8),
        ("en_wine_gal", 3_785.411_784),
        ("en_wine_pt", 473.176_473),
        ("us_floz", 29.573_529_562_5),
        ("uk_gal", 4546.09),
        ("uk_pt", 568.261_25),
        ("uk_floz", 28.413_062_5),
        ("de_bay_ap_lb", 360.0),
        ("nl_pond_metric", 1000.0),
    ] {
        // Rounding of one or two products.
        assert!((size(id) / exact - 1.0).abs() < 4e-16, "{id}: {}", size(id));
    }
}

#[test]
fn chains() {
    let exact: &[(&str, f64, &str)] = &[
        ("en_av_lb", 16.0, "en_av_oz"),
        ("en_av_oz", 16.0, "en_av_dr"),
        ("en_ap_lb", 12.0, "en_ap_oz"),
        ("en_ap_oz", 8.0, "en_ap_dr"),
        ("en_ap_dr", 3.0, "en_ap_scr"),
        ("en_ap_scr", 20.0, "en_grain"),
        ("en_tr_oz", 20.0, "en_dwt"),
        ("en_tower_lb", 12.0, "en_tower_oz"),
        ("en_wine_gal", 8.0, "en_wine_pt"),
        ("en_ale_gal", 8.0, "en_ale_pt"),
        ("uk_gal", 8.0, "uk_pt"),
        ("uk_pt", 20.0, "uk_floz"),
        ("en_wine_pt", 16.0, "us_floz"),
        ("uk_floz", 8.0, "uk_fldr"),
        ("uk_fldr", 60.0, "uk_minim"),
        ("us_fldr", 60.0, "us_minim"),
        ("fr_livre", 16.0, "fr_once"),
        ("fr_once", 8.0, "fr_gros"),
        ("fr_gros", 3.0, "fr_denier"),
        ("fr_denier", 24.0, "fr_grain"),
        ("fr_livre_med", 12.0, "fr_once"),
        ("it_mi_g_libbra", 28.0, "it_mi_g_oncia"),
        ("it_fi_libbra", 12.0, "it_fi_oncia"),
        ("de_nue_ap_lb", 12.0, "de_nue_ap_oz"),
        ("de_nue_ap_lb", 5760.0, "de_nue_ap_gran"),
        ("de_bay_lb", 32.0, "de_bay_lot"),
        ("de_bay_lot", 4.0, "de_bay_quent"),
        ("de_koeln_lot", 4.0, "de_koeln_quent"),
        ("es_libra", 16.0, "es_onza"),
        ("es_azumbre", 4.0, "es_cuartillo"),
        ("nl_pond_ams", 32.0, "nl_lood_ams"),
        ("se_skalpund", 32.0, "se_lod"),
        ("se_kanna", 2.0, "se_stop"),
        ("rm_libra", 12.0, "rm_uncia"),
        ("rm_congius", 6.0, "rm_sextarius"),
        ("rm_amphora", 8.0, "rm_congius"),
        ("ru_lot", 3.0, "ru_zolotnik"),
    ];
    for (whole, times, part) in exact {
        let off = size(whole) / (times * size(part)) - 1.0;
        assert!(off.abs() < 1e-14, "{whole}: {off:.1e}");
    }
    // Chains of figures that were each rounded on their own.
    let rounded: &[(&str, f64, &str, f64)] = &[
        ("fr_pinte", 48.0, "fr_pouce3", 1e-5), // 952.146 and 19.83627
        ("fr_pinte", 2.0, "fr_chopine", 1e-6),
        ("fr_pinte", 8.0, "fr_poisson", 1e-3), // 6 pouces, printed 119.02
        ("ru_funt", 32.0, "ru_lot", 1e-4),     // 409.5172 and 12.797
        ("it_fi_fiasco", 4.0, "it_fi_mezzetta", 1e-3), // 2279.2 and 569.6 printed
        ("ar_mithqal", 1.0 / 0.7, "ar_dirham_legal", 1e-9),
        ("ar_uqiya_eg", 12.0, "ar_dirham", 1e-9),
        ("ar_ratl_bagh", 130.0, "ar_dirham", 1e-9),
    ];
    for (whole, times, part, tolerance) in rounded {
        let off = size(whole) / (times * size(part)) - 1.0;
        assert!(off.abs() < *tolerance, "{whole}: {off:.1e}");
    }
}

/// Figures of the reference notes, section 3, to the digits printed there.
#[test]
fn traps_of_the_notes() {
    // Same grain, ounces 9.7 % apart.
    assert!((size("en_tr_oz") / size("en_av_oz") - 1.097).abs() < 5e-4);
    // Apothecary pounds, grams.
    for (id, g) in [
        ("de_pr_ap_lb", 350.8),
        ("de_wue_ap_lb", 357.7),
        ("at_ap_lb", 420.0),
    ] {
        assert!((size(id) - g).abs() < 0.06, "{id}");
    }
    // One Gran spans 60.9 to 72.9 mg.
    let gran = meant("gran", &Setting::default()).size();
    assert!((gran.low.in_metric() * 1e3 - 60.9).abs() < 0.1);
    assert!((gran.high.in_metric() * 1e3 - 72.9).abs() < 0.1);
}

#[test]
fn the_uk_pint_changes_in_1826_and_the_american_does_not() {
    let uk = |year| likeliest("pint", &at(Place::England, year)).0;
    assert_eq!((uk(1825), uk(1826)), ("en_wine_pt", "uk_pt"));
    let us = |year| meant("pint", &at(Place::UnitedStates, year));
    assert_eq!(ids(&us(1825)), ["en_wine_pt"]);
    assert_eq!(ids(&us(1907)), ["en_wine_pt"]);
    // A pint of beer is an ale pint; one of wine never is.
    let pint = word("pint").unwrap();
    let england = at(Place::England, 1740);
    assert_eq!(
        pint.candidates_for(&england, Goods::Beer)
            .likeliest()
            .unit
            .id,
        "en_ale_pt"
    );
    assert_eq!(
        ids(&pint.candidates_for(&england, Goods::Wine)),
        ["en_wine_pt"]
    );
    assert_eq!(ids(&pint.candidates(&england)), ["en_wine_pt", "en_ale_pt"]);
    // Before 1707 an eighth of the Guildhall gallon, 3 % less.
    let (id, ml) = likeliest("pint", &at(Place::England, 1596));
    assert_eq!(id, "en_wine_gal_old");
    assert!((ml - 458.84).abs() < 0.01);
}

#[test]
fn pounds_and_ounces_by_the_book() {
    let england = at(Place::England, 1700);
    let of = |book| ids(&meant("pound", &england.in_book(book)));
    assert_eq!(of(Book::Trade), ["en_av_lb"]);
    assert_eq!(of(Book::Apothecary), ["en_ap_lb", "en_tr_lb", "en_av_lb"]);
    assert_eq!(of(Book::Unknown), ["en_av_lb", "en_ap_lb", "en_tr_lb"]);
    let span = meant("pound", &england.in_book(Book::Apothecary)).size();
    // 373 or 454 g, each known to a thousandth.
    assert!((span.low.in_metric() - 373.2417 * 0.999).abs() < 0.01);
    assert!((span.high.in_metric() - 453.5924 * 1.001).abs() < 0.01);
    // The sign is always the apothecary's.
    assert_eq!(likeliest("℥", &england.in_book(Book::Trade)).0, "en_ap_oz");
    // Before the apothecaries had a weight of their own (1618) theirs was troy.
    let early = at(Place::England, 1580).in_book(Book::Apothecary);
    assert_eq!(likeliest("pound", &early).0, "en_tr_lb");
    assert_eq!(likeliest("oz", &early).0, "en_tr_oz");
    // Before 1527 the Tower pound is among them.
    assert!(ids(&meant("pound", &at(Place::England, 1450))).contains(&"en_tower_lb"));
}

#[test]
fn france_italy_the_netherlands() {
    let paris = at(Place::Paris, 1755);
    let (id, g) = likeliest("once", &paris);
    assert_eq!(id, "fr_once");
    assert!((g - 30.594).abs() < 5e-4 && (31.1035 / g - 1.0 - 0.0166).abs() < 5e-4);
    // The livre usuelle: only from 1812 to 1840.
    assert_eq!(
        likeliest("livre", &at(Place::Paris, 1825)),
        ("fr_livre_usuelle", 500.0)
    );
    assert_eq!(likeliest("livre", &paris).0, "fr_livre");
    let apothecary = paris.in_book(Book::Apothecary);
    assert_eq!(likeliest("livre", &apothecary).0, "fr_livre_med");
    // The livre of the south is offered in the south.
    assert!(ids(&meant("livre", &at(Place::Avignon, 1700))).contains(&"fr_livre_avignon_s"));
    assert!(!ids(&meant("livre", &paris)).contains(&"fr_livre_avignon_s"));

    let (id, g) = likeliest("libbra", &at(Place::Florence, 1600));
    assert_eq!((id, g), ("it_fi_libbra", 339.5));
    let (libbra, oncia) = (g, likeliest("oncia", &at(Place::Florence, 1600)).1);
    assert!((libbra / oncia - 12.0).abs() < 1e-12);
    // Ticino weighed like Milan, 28 once.
    assert_eq!(
        likeliest("oncia", &at(Place::Ticino, 1620)).0,
        "it_mi_g_oncia"
    );

    let nl = |year| likeliest("pond", &at(Place::Netherlands, year)).1;
    assert_eq!((nl(1850), nl(1750)), (1000.0, 494.09));
    let lood = |year| likeliest("lood", &at(Place::Netherlands, year)).1;
    assert!((lood(1850) - 10.0).abs() < 1e-9 && (lood(1750) - 15.44).abs() < 0.01);
}

/// The notes, section 3: an Italian pound has 12 once of its own town, and a
/// libra castellana 16 onzas; no sign and no Latin makes English ounces of them.
#[test]
fn signs_latin_and_plurals_abroad() {
    let rome = at(Place::Rome, 1545);
    for spelling in ["℥", "once", "oncie", "uncia"] {
        assert_eq!(likeliest(spelling, &rome).0, "it_ro_oncia", "{spelling}");
    }
    assert_eq!(likeliest("libra", &rome).0, "it_ro_libbra");
    let (id, drachm) = likeliest("ʒ", &rome);
    assert!(id == "it_ro_oncia" && (28.25 / drachm - 8.0).abs() < 1e-9);
    let spain = at(Place::Castile, 1590);
    for spelling in ["℥", "onzas", "onças", "uncia"] {
        assert_eq!(likeliest(spelling, &spain).0, "es_onza", "{spelling}");
    }
    // The Roman ones stay Roman.
    let old = at(Place::RomanWorld, 100);
    assert_eq!(ids(&meant("uncia", &old)), ["rm_uncia"]);
    // Every sign has the apothecary's weight of the land: 24 scruples an ounce.
    for (place, year) in [
        (Place::Prussia, 1850),
        (Place::Austria, 1850),
        (Place::Paris, 1755),
    ] {
        let [ounce, scruple] = ["℥", "℈"].map(|s| likeliest(s, &at(place, year)).1);
        assert!((ounce / scruple - 24.0).abs() < 1e-9, "{place}");
    }
}

/// Whose land has a measure of its own is not given that of the wider land.
#[test]
fn the_measure_of_the_place_comes_first() {
    for (word, place, year, unit) in [
        ("Drachme", Place::Prussia, 1850, "de_pr_ap_lb"),
        ("Gran", Place::Wuerttemberg, 1850, "de_wue_ap_lb"),
        ("Gran", Place::Bavaria, 1850, "de_bay_ap_lb"),
        ("livre", Place::Avignon, 1700, "fr_livre_avignon_g"),
        ("once", Place::Montpellier, 1700, "fr_once_montp_g"),
        // "Languedoc livre/once smaller than Paris", a note to FR06.
        ("once", Place::Languedoc, 1763, "fr_once_montp_g"),
        ("once", Place::Paris, 1755, "fr_once"),
        ("livre", Place::France, 1755, "fr_livre"),
    ] {
        assert_eq!(likeliest(word, &at(place, year)).0, unit, "{word} {place}");
    }
}

/// A household's Pfund is no apothecary's, whether or not a row tells its size:
/// 32 Lot of 14 to 18 g.
#[test]
fn a_pfund_of_any_land() {
    for (place, year) in [
        (Place::Saxony, 1700),
        (Place::Bavaria, 1750),
        (Place::Hesse, 1840),
    ] {
        let pfund = meant("Pfund", &at(place, year));
        assert_eq!(pfund.standing(), Standing::Fits);
        // Cologne's 467.7 g and Bavaria's 560 g lie within, 358 g is offered too.
        let span = in_metric(&pfund);
        assert!((467.7..560.0).contains(&span[1]), "{place}");
        assert!(span[0] < 361.0 && span[2] > 560.0, "{place}");
        let lot = in_metric(&meant("Loth", &at(place, year)));
        assert!(lot[0] > 13.999 && lot[2] < 18.001, "{place}");
    }
    // Where the law tells it, it is that.
    assert_eq!(
        ids(&meant("Lot", &at(Place::Bavaria, 1850))),
        ["de_bay_lot"]
    );
    assert_eq!(
        ids(&meant("Quäntchen", &at(Place::Austria, 1800))),
        ["at_lot"]
    );
}

/// The metric law ended every livre of the towns too.
#[test]
fn no_livre_of_avignon_after_1800() {
    for year in [1805, 1811, 1845] {
        let livre = meant("livre", &at(Place::France, year));
        assert_eq!(livre.standing(), Standing::OtherTime, "{year}");
        assert_eq!(livre.likeliest().unit.id, "fr_livre", "{year}");
    }
    assert_eq!(
        ids(&meant("livre", &at(Place::France, 1825))),
        ["fr_livre_usuelle"]
    );
}

/// London's pharmacopoeia: the fluid ounce, drachm and minim are one measure.
#[test]
fn fluid_measures_change_together() {
    for year in [1800, 1825, 1826, 1900] {
        let [ounce, drachm, minim] =
            ["fl oz", "fluid drachm", "minims"].map(|w| likeliest(w, &at(Place::England, year)).1);
        assert!((ounce / drachm - 8.0).abs() < 1e-9, "{year}");
        assert!((drachm / minim - 60.0).abs() < 1e-9, "{year}");
        let by_law = if year < 1826 { 29.57 } else { 28.41 };
        assert!((ounce - by_law).abs() < 0.01, "{year}");
    }
}

#[test]
fn german_mass_lot_and_schoppen_by_place() {
    // To the bits that going to m³ and back costs.
    let mass = |place, year| (likeliest("Maß", &at(place, year)).1 * 1e9).round() / 1e9;
    assert_eq!(mass(Place::Bavaria, 1850), 1069.0);
    assert_eq!(mass(Place::Austria, 1850), 1415.0);
    assert_eq!(mass(Place::Baden, 1850), 1500.0);
    assert_eq!(mass(Place::Rhineland, 1798), 1783.0);
    let lot = |place| likeliest("Loth", &at(place, 1830)).1;
    assert_eq!((lot(Place::Bavaria), lot(Place::Russia)), (17.5, 12.797));
    assert!((lot(Place::Prussia) - 14.616).abs() < 5e-4);
    assert!((likeliest("Schoppen", &at(Place::Baden, 1850)).1 - 375.0).abs() < 1e-9);
    // With no place nothing can be said but a wide span.
    let wide = meant("mass", &Setting::default()).size();
    assert!(wide.high.in_metric() / wide.low.in_metric() > 1.6);
}

#[test]
fn vague_and_eastern_ones() {
    // A drop is no minim: 0.05 mL with half of it either way.
    let drop = meant("drop", &Setting::default());
    assert!(drop.size().low.in_metric() < 0.03 && drop.size().high.in_metric() > 0.07);
    let minim = meant("minim", &at(Place::England, 1900));
    assert_eq!(ids(&minim), ["uk_minim"]);
    // Two dirhams, 5 % apart.
    let dirham = meant("dirham", &at(Place::Egypt, 1200));
    assert_eq!(ids(&dirham), ["ar_dirham", "ar_dirham_legal"]);
    let [a, b] = [dirham.all()[0], dirham.all()[1]].map(|c| c.size().in_metric());
    assert!((a / b - 1.05).abs() < 1e-3);
    // A ratl must name its city.
    let ratl = |place| ids(&meant("ratl", &at(place, 1100)));
    assert_eq!(
        (ratl(Place::Iraq), ratl(Place::Egypt)),
        (vec!["ar_ratl_bagh"], vec!["ar_ratl_eg"])
    );
}

#[test]
fn nothing_out_of_its_time_without_saying_so() {
    let found = meant("fluid ounce", &at(Place::Paris, 1755));
    assert_eq!(found.standing(), Standing::OtherPlace);
    let found = meant("livre", &at(Place::Paris, 1900));
    assert_eq!(found.standing(), Standing::OtherTime);
    let found = meant("azumbre", &at(Place::England, 1900));
    assert_eq!(found.standing(), Standing::OtherPlaceAndTime);
    for w in words() {
        for place in Place::all() {
            for year in [-50, 900, 1350, 1600, 1740, 1826, 1850, 1935] {
                let setting = at(place, year);
                let found = w.candidates(&setting);
                for c in found.all() {
                    let fits = c.unit.fits(setting.place, setting.years);
                    assert_eq!(fits, found.standing() == Standing::Fits, "{} {place}", w.id);
                }
            }
        }
    }
}

#[test]
fn words_are_sound() {
    let mut spellings: Vec<&str> = Vec::new();
    for w in words() {
        for book in [Book::Unknown, Book::Apothecary, Book::Trade] {
            for goods in [Goods::Unknown, Goods::Wine, Goods::Beer] {
                let found = w.candidates_for(&Setting::default().in_book(book), goods);
                assert_eq!(found.standing(), Standing::Fits, "{} has no {book:?}", w.id);
                let kind = found.kind();
                assert!(found.all().iter().all(|c| c.unit.kind == kind), "{}", w.id);
                assert_eq!(found.all()[0], found.likeliest());
            }
        }
        for s in w.spellings {
            assert_eq!(word(s).unwrap().id, w.id);
            assert_eq!(s.to_lowercase(), *s);
            spellings.push(s);
        }
    }
    let count = spellings.len();
    spellings.sort_unstable();
    spellings.dedup();
    assert_eq!(spellings.len(), count, "a spelling of two words");
    // Every unit can be reached by a word.
    for u in units() {
        let reached = words().iter().any(|w| {
            let all = |book| w.candidates(&Setting::default().in_book(book));
            [Book::Unknown, Book::Apothecary, Book::Trade]
                .into_iter()
                .any(|b| all(b).all().iter().any(|c| c.unit.id == u.id))
        });
        assert!(reached, "{}", u.id);
    }
}

fn places() -> impl Strategy<Value = Place> {
    prop::sample::select(Place::all().collect::<Vec<_>>())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Whoever knows more of place, year, book and goods has no wider interval,
    /// as long as what is known fits something in the table.
    #[test]
    fn narrower_knowledge_never_widens(
        w in 0..words().len(),
        unit_at in any::<prop::sample::Index>(),
        used_at in any::<prop::sample::Index>(),
        place in places(),
        year_at in 0.0..1.0_f64,
        before in 0..300_i32,
        after in 0..300_i32,
        book in prop::sample::select(vec![Book::Unknown, Book::Apothecary, Book::Trade]),
        goods in prop::sample::select(vec![Goods::Unknown, Goods::Wine, Goods::Beer]),
    ) {
        let w = &words()[w];
        // Knowledge that fits: a place and a year of one of its units, or a
        // place in that one.
        let all = w.candidates_for(&Setting::default().in_book(book), goods);
        let used = unit_at.get(all.all()).unit.used;
        let used = used_at.get(used);
        let place = if place.is_in(used.place) { place } else { used.place };
        let (from, to) = (used.years.from().max(-200), used.years.to().min(2000));
        let year = from + (year_at * f64::from(to - from)) as i32;
        let narrow = Setting::new(place, Years::of(year).unwrap()).in_book(book);
        let known = w.candidates_for(&narrow, goods);
        prop_assert_eq!(known.standing(), Standing::Fits);
        let wide_years = Years::between(year - before, year + after).unwrap();
        let wider = [
            (Setting::new(place, wide_years).in_book(book), goods),
            (Setting::new(place.within().unwrap_or(place), narrow.years).in_book(book), goods),
            (Setting::new(place, narrow.years), goods),
            (narrow, Goods::Unknown),
            (Setting::default(), Goods::Unknown),
        ];
        let inner = known.size();
        for (setting, goods) in wider {
            let outer = w.candidates_for(&setting, goods).size();
            prop_assert!(outer.low.in_metric() <= inner.low.in_metric());
            prop_assert!(outer.high.in_metric() >= inner.high.in_metric());
        }
        prop_assert!(inner.low.in_metric() <= inner.typical.in_metric());
        prop_assert!(inner.typical.in_metric() <= inner.high.in_metric());
    }

    /// A metric amount said in an old unit and back, to within half a fraction.
    #[test]
    fn said_in_old_units_and_back(g in 0.5..5000.0_f64, fraction in 1..64_u32) {
        let once = unit("fr_once").unwrap();
        let said = echo(ferrogall::quantity::grams(g), once, fraction).unwrap();
        prop_assert!((said.units * once.metric_value / g - 1.0).abs() < 1e-12);
        let step = once.metric_value / f64::from(fraction);
        let off = (said.back.in_metric() - g).abs();
        prop_assert!(off <= 0.5 * step * (1.0 + 1e-9) || said.nearest * f64::from(fraction) == 1.0);
        prop_assert!((said.off - (said.back.in_metric() / g - 1.0)).abs() < 1e-12);
    }
}

/// Question 29 of the makers: "80 g is exactly 3 oz" is 2.82 oz.
#[test]
fn eighty_grams_are_no_three_ounces() {
    let said = echo(
        ferrogall::quantity::grams(80.0),
        unit("en_av_oz").unwrap(),
        1,
    )
    .unwrap();
    assert!((said.units - 2.82).abs() < 0.005);
    assert_eq!(said.nearest, 3.0);
    assert!(matches!(
        echo(
            ferrogall::quantity::milliliters(80.0),
            unit("en_av_oz").unwrap(),
            1
        ),
        Err(HistoryError::WrongKind { .. })
    ));
    for g in [f64::NAN, f64::INFINITY, -1.0, 0.0] {
        assert!(echo(ferrogall::quantity::grams(g), unit("en_av_oz").unwrap(), 1).is_err());
    }
}
