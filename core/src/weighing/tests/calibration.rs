//! What a calibration says of itself, against least squares by the normal equations in double precision with their covariance
//! (GUM H.3; ISO/TS 28037 for points of equal weight), and the limits at which one is refused.

use std::vec;
use std::vec::Vec;

use crate::units::{FineCounts, Milligrams};
use crate::weighing::{COINS, Calibration, CalibrationFault, Point, Proof, fit};

const CAPACITY: Milligrams = Milligrams(500_000);
/// A cell for 1 kg: twice the capacity.
const RATED: f64 = 1e6;
const PER_MG: f64 = 2.147_483_6;
const SKEIN: f64 = 3e5;

fn rss(parts: &[f64]) -> f64 {
    parts.iter().map(|part| part * part).sum::<f64>().sqrt()
}

fn close(what: &str, value: f32, by_hand: f64, relative: f64) {
    let off = (f64::from(value) - by_hand).abs();
    assert!(
        off <= relative * by_hand.abs() + 1e-9,
        "{what}: {value}, by hand {by_hand}"
    );
}

/// Least squares of `y = offset + b1 x + b2 x²`, the offset for the second kind of points only: parameters, covariance for a residual
/// standard deviation of 1, and the residual standard deviation.
struct Normal {
    found: Vec<f64>,
    covariance: Vec<Vec<f64>>,
    sd: f64,
    bends: bool,
}

impl Normal {
    fn new(known: &[(f64, f64)], on_cup: &[(f64, f64)], degree: usize) -> Self {
        // Abscissae of about 1, or the equations lose what they are to tell.
        let rows: Vec<(Vec<f64>, f64)> = [(known, 0.0), (on_cup, 1.0)]
            .into_iter()
            .flat_map(|(points, cup)| points.iter().map(move |&(x, y)| ([x / 1e6, (x / 1e6).powi(2)], cup, y)))
            .map(|(powers, cup, y)| {
                let mut row = powers[..degree].to_vec();
                if !on_cup.is_empty() {
                    row.push(cup);
                }
                (row, y)
            })
            .collect();
        let n = rows[0].0.len();
        let mut matrix: Vec<Vec<f64>> = (0..n)
            .map(|i| {
                let sums = (0..n).map(|j| rows.iter().map(|(row, _)| row[i] * row[j]).sum::<f64>());
                let unit = (0..n).map(|j| f64::from(u8::from(i == j)));
                sums.chain(unit).collect()
            })
            .collect();
        // Gauss and Jordan; sums of squares need no pivoting here.
        for i in 0..n {
            let pivot = matrix[i][i];
            matrix[i].iter_mut().for_each(|x| *x /= pivot);
            let row = matrix[i].clone();
            for (k, other) in matrix.iter_mut().enumerate().filter(|(k, _)| *k != i) {
                let factor = other[i];
                other.iter_mut().zip(&row).for_each(|(x, y)| *x -= factor * y);
                assert!(k < n);
            }
        }
        let covariance: Vec<Vec<f64>> = matrix.iter().map(|row| row[n..].to_vec()).collect();
        let sums: Vec<f64> = (0..n).map(|i| rows.iter().map(|(row, y)| row[i] * y).sum()).collect();
        let found: Vec<f64> = covariance
            .iter()
            .map(|row| row.iter().zip(&sums).map(|(a, b)| a * b).sum())
            .collect();
        let squares: f64 = rows
            .iter()
            .map(|(row, y)| (row.iter().zip(&found).map(|(a, b)| a * b).sum::<f64>() - y).powi(2))
            .sum();
        let freedom = rows.len() - n;
        let sd = if freedom == 0 {
            0.0
        } else {
            (squares / freedom as f64).sqrt()
        };
        Self {
            found,
            covariance,
            sd,
            bends: degree == 2,
        }
    }

    fn powers(&self, x: f64) -> Vec<f64> {
        let mut powers = vec![0.0; self.found.len()];
        powers[0] = x / 1e6;
        if self.bends {
            powers[1] = (x / 1e6).powi(2);
        }
        powers
    }

    fn rise(&self, x: f64) -> f64 {
        self.powers(x).iter().zip(&self.found).map(|(a, b)| a * b).sum()
    }

    /// Standard deviation of the rise, by the law of propagation (GUM 5.2.2).
    fn rise_sd(&self, x: f64) -> f64 {
        let powers = self.powers(x);
        let of = |row: &Vec<f64>| row.iter().zip(&powers).map(|(a, b)| a * b).sum::<f64>();
        self.covariance
            .iter()
            .zip(&powers)
            .map(|(row, power)| power * of(row))
            .sum::<f64>()
            .sqrt()
    }

    /// Standard deviation of the bend, in mg at half the rated load.
    fn bow_sd(&self) -> f64 {
        0.25 * self.covariance[1][1].sqrt() * (RATED * PER_MG / 1e6).powi(2)
    }
}

/// A load of so many grams on a cup (or none), read so many mg too high, on a cell with this bow at half its rated load, mg.
fn point(grams: f64, cup: f64, off: f64, bow: f64) -> Point {
    let mg = 1_000.0 * (grams + cup);
    let bent = mg + 4.0 * bow * mg / RATED * (1.0 - mg / RATED);
    Point {
        load: Milligrams((1_000.0 * grams) as i32),
        cup: cup > 0.0,
        u: (0.02 * grams + 1.0) as f32,
        level: FineCounts((16.0 * (90_000.0 + PER_MG * (bent + off))).round() as i32),
    }
}

fn split(points: &[Point]) -> [Vec<(f64, f64)>; 2] {
    let of = |cup: bool| {
        let chosen = points
            .iter()
            .filter(|point| point.cup == cup && (cup || point.load.0 > 0));
        chosen
            .map(|point| {
                (
                    f64::from(point.level.0 - points[0].level.0) / 16.0,
                    f64::from(point.load.0),
                )
            })
            .collect()
    };
    [of(false), of(true)]
}

fn prove(points: &[Point]) -> Proof {
    Calibration::prove(points, CAPACITY).expect("proven")
}

/// The calibrations that are tried: masses alone, with a cup; quiet and with readings off by more than a reading usually is.
fn sets() -> Vec<Vec<Point>> {
    let masses = |off: [f64; 4]| {
        let grams = [0.0, 100.0, 200.0, 350.0, 500.0];
        grams
            .into_iter()
            .zip([0.0].into_iter().chain(off))
            .map(|(grams, off)| point(grams, 0.0, off, 350.0))
            .collect()
    };
    vec![
        masses([2.0, -3.0, 1.0, 4.0]),
        masses([30.0, -60.0, 40.0, -25.0]),
        vec![
            point(0.0, 0.0, 0.0, -300.0),
            point(200.0, 0.0, 3.0, -300.0),
            point(0.0, 180.0, -6.0, -300.0),
            point(200.0, 180.0, 9.0, -300.0),
        ],
        vec![
            point(0.0, 0.0, 0.0, 200.0),
            point(100.0, 0.0, 20.0, 200.0),
            point(200.0, 0.0, -35.0, 200.0),
            point(0.0, 240.0, 15.0, 200.0),
            point(100.0, 240.0, -20.0, 200.0),
            point(200.0, 240.0, 10.0, 200.0),
        ],
    ]
}

/// A fit's curve, its scatter and how sure it is, with and without points on a cup.
#[test]
fn fits_know_how_sure_they_are() {
    for points in sets() {
        let [known, on_cup] = split(&points);
        let single = |points: &[(f64, f64)]| points.iter().map(|&(x, y)| (x as f32, y as f32)).collect::<Vec<_>>();
        for degree in [1, 2] {
            let fit = fit::polynomial(&single(&known), &single(&on_cup), degree).expect("determined");
            let normal = Normal::new(&known, &on_cup, degree);
            if normal.sd > 1.0 {
                close("residual", fit.residual_sd, normal.sd, 0.01);
            }
            for x in [1e5, 3e5, 6e5, 1.1e6, -2e5] {
                close("rise", fit.rise(x as f32), normal.rise(x), 1e-5);
                close("its deviation", fit.rise_sd(x as f32), normal.rise_sd(x), 1e-3);
            }
            if !on_cup.is_empty() {
                close("offset", fit.b0, normal.found[degree], 1e-3);
                close(
                    "at",
                    fit.b0 + fit.rise(4e5),
                    normal.found[degree] + normal.rise(4e5),
                    1e-3,
                );
            }
        }
    }
}

/// What is stated of 300 g: the best mass, the readings (never better than 8 mg), and the bow where it is not known.
#[test]
fn a_proof_states_what_its_points_are_worth() {
    for points in sets() {
        let [known, on_cup] = split(&points);
        let proof = prove(&points);
        let normal = Normal::new(&known, &on_cup, 2);
        assert!(proof.bent && proof.calibration.is_bent());
        let sd = normal.sd.max(8.0);
        let skein = normal.rise_sd(SKEIN * PER_MG) * sd;
        close("readings", proof.u_reading, skein, 3e-3);
        let masses = points.iter().filter(|point| !point.cup && point.load.0 > 0);
        let weakest = masses
            .map(|point| f64::from(point.u) / f64::from(point.load.0))
            .fold(1.0, f64::min);
        close("300 g", proof.u, rss(&[weakest * SKEIN, skein]), 3e-3);
        close("bow", proof.calibration.bow(), normal.bow_sd() * sd, 3e-3);
        let share = (normal.bow_sd() * sd / RATED).max(4e-5);
        close("its share", proof.calibration.u_bow(RATED as f32), share, 3e-3);
        // The span is as sure as the rise where the bend has no say.
        let [single, cups] =
            [&known, &on_cup].map(|points| points.iter().map(|&(x, y)| (x as f32, y as f32)).collect::<Vec<_>>());
        let crossing = f64::from(fit::polynomial(&single, &cups, 2).expect("determined").crossing);
        let slope = normal.rise_sd(crossing) / crossing * sd * PER_MG;
        close("span", proof.calibration.u_span(), rss(&[weakest, slope]), 3e-3);
        let misses = known.iter().map(|&(x, y)| (normal.rise(x) - y).abs());
        let on_cups = on_cup
            .iter()
            .map(|&(x, y)| (normal.found[2] + normal.rise(x) - y).abs());
        let worst = misses.chain(on_cups).fold(0.0, f64::max);
        assert!(
            (f64::from(proof.largest_residual) - worst).abs() < 0.3,
            "{} of {worst}",
            proof.largest_residual
        );
        if normal.sd > 1.0 {
            close("scatter", proof.residual_sd, normal.sd, 0.01);
        }
    }
}

/// One mass tells no bow: 0.023 % of the rated load at half load stands for it, as much as it matters at 300 g.
#[test]
fn one_mass_leaves_the_bow_open() {
    let proof = prove(&[point(0.0, 0.0, 0.0, 0.0), point(200.0, 0.0, 0.0, 0.0)]);
    assert!(!proof.bent && !proof.calibration.is_bent());
    let bow = 4.0 * 0.000_23 * SKEIN * (1.0 - SKEIN / RATED);
    let reading = 8.0 * 1.5;
    close("readings", proof.u_reading, reading, 1e-3);
    let mass = 5.0 / 200e3;
    close("300 g", proof.u, rss(&[mass * SKEIN, reading, bow]), 1e-3);
    close("span", proof.calibration.u_span(), rss(&[mass, 8.0 / 200e3]), 1e-3);
    close("bow", proof.calibration.u_bow(RATED as f32), 0.000_23, 1e-3);
}

/// A bend is believed where its points know it better than what is promised of a cheap cell anyway.
#[test]
fn a_bend_is_believed_where_it_is_known_well_enough() {
    let (mut believed, mut not) = (0, 0);
    for tenths in 260..3_000 {
        let grams = f64::from(tenths) / 10.0;
        let points = [
            point(0.0, 0.0, 0.0, 100.0),
            point(grams, 0.0, 0.0, 100.0),
            point(1.5 * grams, 0.0, 0.0, 100.0),
        ];
        let [known, _] = split(&points);
        let bow = Normal::new(&known, &[], 2).bow_sd() * 8.0;
        if (bow / 230.0 - 1.0).abs() < 0.003 {
            continue;
        }
        let proof = prove(&points);
        assert_eq!(proof.bent, bow < 230.0, "{grams} g: {bow:.0} mg");
        believed += usize::from(proof.bent);
        not += usize::from(!proof.bent);
    }
    assert!(believed > 100 && not > 100);
}

/// Where a calibration is refused, to a few milligrams: a mass of less than a twentieth of the capacity, a point that is off by more
/// than 0.2 % of it, a cell that bows by more than 0.4 %.
#[test]
fn what_is_no_calibration_is_refused_at_its_limit() {
    let fault = |points: &[Point]| Calibration::prove(points, CAPACITY).err();
    let zero = point(0.0, 0.0, 0.0, 0.0);
    assert_eq!(fault(&[zero, point(25.0, 0.0, 0.0, 0.0)]), None);
    assert_eq!(
        fault(&[zero, point(24.999, 0.0, 0.0, 0.0)]),
        Some(CalibrationFault::TooLight)
    );
    // Twice the same mass, read apart: each misses by half of it.
    for sign in [1.0, -1.0] {
        let twice = |off: f64| {
            [
                zero,
                point(200.0, 0.0, sign * off, 0.0),
                point(200.0, 0.0, -sign * off, 0.0),
            ]
        };
        assert_eq!(fault(&twice(990.0)), None);
        assert_eq!(fault(&twice(1_010.0)), Some(CalibrationFault::NotStraight));
        // At half the capacity a parabola through both ends is off by its bow: 2 g.
        let bent = |bow: f64| [zero, point(250.0, 0.0, sign * bow, 0.0), point(500.0, 0.0, 0.0, 0.0)];
        assert_eq!(fault(&bent(1_950.0)), None);
        assert_eq!(fault(&bent(2_050.0)), Some(CalibrationFault::NotStraight));
    }
}

/// Before it is calibrated a cell is taken for one of 1 mV/V: a thousandth of the supply at its rated load, by 128, against half the supply
/// for 2^23 counts (the converter's data sheet, gain; from memory).
#[test]
fn an_uncalibrated_cell_is_one_of_its_data_sheet() {
    for grams in [500, 1_000] {
        let counts = 0.001 * 128.0 / 0.5 * 8_388_608.0;
        let nominal = Calibration::nominal(Milligrams::from_grams(grams));
        close(
            "mg a count",
            nominal.mg_per_count(),
            1_000.0 * f64::from(grams) / counts,
            1e-6,
        );
        assert_eq!((nominal.zero(), nominal.is_bent()), (FineCounts(0), false));
    }
    assert!(Calibration::nominal(Milligrams(-7)).mg_per_count() > 0.0);
}

/// Coins together: each anywhere within its tolerance (GUM 4.3.7), so by the root of their number; worn all alike, by 0.3 %.
#[test]
fn coins_are_worth_what_their_mints_allow() {
    for coin in COINS {
        let tolerance = f64::from(coin.tolerance.0);
        let share = tolerance / f64::from(coin.mass.0);
        assert!((0.015..=0.0405).contains(&share), "{}: {share}", coin.name);
        for count in [1_u8, 20, 60] {
            let mass = f64::from(coin.mass.0) * f64::from(count);
            let weighed = coin.times(count);
            assert_eq!(f64::from(weighed.value.0), mass);
            let each = tolerance / 3.0_f64.sqrt() * f64::from(count).sqrt();
            close(coin.name, weighed.u, rss(&[each, 0.003 * mass]), 1e-4);
        }
    }
}
