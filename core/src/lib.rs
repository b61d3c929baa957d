#![no_std]
#![cfg_attr(
    test,
    allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "tests make their cases by casts"
    )
)]
//! Everything the yarn scale decides: weighing, section ledger, answers, screens.
//!
//! The line that data takes, one module a step, each with a type as its hand-over:
//!
//! raw counts → checked sample → load in counts, steady or not → grams → visit → mark → ledger → answer → screen
//!
//! To read it as a book, follow that line.
//!
//! # 1. What a settled reading is
//! Each conversion is [checked](signal::Check) by itself and among its neighbours, brought to a tick of a tenth of a
//! second, and tested against the ticks since the last change (`signal/segment.rs`, a likelihood ratio). A level may be trusted once
//! three things hold: the segment is settled; its standard error `s sqrt(c / n)`, with the spread `s` and the factor `c` for the
//! likeness of neighbours as this unit has shown them, is small enough for a tenth of a gram; and nothing but the load acts on the
//! pan, by the vote of [small trees](signal::Tree). [Thresholds](signal::Thresholds) says what that costs in time, and where it stops
//! between quick and sure. Only settling makes a [`signal::SteadyLevel`].
//!
//! # 2. How zero is kept
//! What lies on the pan can be told from a shifted zero only by how the level came about: `weighing/zero.rs` takes a level for the
//! empty pan at power-on, whenever a load has gone off, and while the pan is known to be empty; under a load never, since a slow
//! change there is yarn being knitted. Between two empty pans the cell has crept; what that teaches is taken out, within bounds
//! that cannot invent yarn (`weighing/creep.rs`).
//!
//! # 3. From counts to grams
//! Known masses give a straight line by least squares, three or more of them a slight bend if the residuals ask for it
//! ([`weighing::Calibration`]). Grams are shown [with hysteresis](weighing::Indication), quiet at rest and quick when it
//! means something (`weighing/display.rs`); the ledger gets the fine value.
//!
//! ```
//! use yarn_scale_core::converter::{RawSample, SampleRate};
//! use yarn_scale_core::units::{Counts, FineCounts, Instant, Milligrams};
//! use yarn_scale_core::weighing::{Calibration, Scale};
//!
//! const COUNTS_PER_GRAM: i32 = 4_295;
//! let calibration = Calibration::straight(FineCounts(0), COUNTS_PER_GRAM as f32)?;
//! let mut scale = Scale::new(calibration, Milligrams::from_grams(500), SampleRate::Ten, None);
//!
//! // Four seconds with an empty pan, four with 50 g, and a little noise: a real cell never repeats one word.
//! for tenth in 0..80 {
//!     let grams = if tenth < 40 { 0 } else { 50 };
//!     let noise = tenth * 17 % 41 - 20;
//!     let raw = RawSample(Counts(grams * COUNTS_PER_GRAM + noise));
//!     scale.sample(Instant(tenth as u64 * 100), Ok(raw));
//! }
//! let readout = scale.readout();
//! assert!(readout.steady.is_some() && readout.zero_proven);
//! assert_eq!(readout.shown.map(|grams| grams.to_string()).as_deref(), Some("50.0"));
//! # Ok::<(), yarn_scale_core::weighing::CalibrationFault>(())
//! ```
//!
//! # 4. What a difference is worth
//! Every reading carries the [budget](weighing::Budget) of its standard uncertainty, combined as in the GUM (JCGM 100:2008, 5.1.2):
//! `u² = Σ uᵢ²`. A section is the difference of two readings, and what both share goes out of it ([`weighing::Conditions::used`]):
//! `u²(a − b) = own²(a) + own²(b) + (span² + bow² (1 − (a + b) / rated)² + hysteresis²) (a − b)²`. Days apart, moisture is the larger part and
//! is widened or corrected by [`sock::moisture`]. On the screen stands ± 1.96 u, the 95 % interval, rounded up.
//!
//! # 5. From a press to a section's use
//! A load that settles is a visit; a press of the mark key notes it ([`app`]). Weights of one yarn form a chain, and a section took
//! the difference of two neighbours ([`ledger`]), so that nothing can appear or vanish. What a press means is told by
//! [likelihood](recognise), and asked where none is likely enough. What the screen has confirmed, the [`journal`] has read back from flash; what its records mean
//! stands in one [`book`], on the device as on a computer.
//!
//! A press, and the record that it asks for:
//!
//! ```
//! use yarn_scale_core::app::{App, Chip, Configuration, Effect, Input};
//! use yarn_scale_core::board::Levels;
//! # use yarn_scale_core::converter::RawSample;
//! use yarn_scale_core::journal::{Entry, PairEvent, Record, Replayed, Sequence, StartCause};
//! # use yarn_scale_core::sock::{Construction, Line, SectionKind, Sock, YarnLetter};
//! use yarn_scale_core::units::{Instant, Milligrams, Stamp};
//! # use yarn_scale_core::units::{Counts, FineCounts};
//! # use yarn_scale_core::weighing::Calibration;
//! # let calibration = Calibration::straight(FineCounts(0), 4_295.0)?;
//! # let configuration = Configuration {
//! #     capacity: Milligrams::from_grams(500),
//! #     calibration,
//! #     calibrated: true,
//! #     version: "example",
//! #     chip: Chip::default(),
//! # };
//! # let cuff = Line {
//! #     kind: SectionKind::Cuff,
//! #     sock: Sock::First,
//! #     yarn: YarnLetter::A,
//! #     construction: Construction::Plain,
//! #     stitches: 64,
//! # };
//! # // The word that the converter gives at this time: 20 g from the fourth second on, and a little noise.
//! # let converted = |now: u64| {
//! #     let noise = (now / 100) as i32 * 17 % 41 - 20;
//! #     RawSample(Counts(noise + if now < 4_000 { 0 } else { 20 * 4_295 }))
//! # };
//!
//! let mut app = App::new(configuration);
//! // The journal holds a plan of one section.
//! let plan = Entry {
//!     sequence: Sequence(1),
//!     at: Stamp(0),
//!     record: Record::PairBegun { pair: 1, lines: [cuff].into_iter().collect() },
//! };
//! app.handle(Instant(0), Input::Replayed(Replayed::Entry(&plan)));
//! app.handle(Instant(0), Input::Ready(StartCause::PowerOn));
//!
//! let mut asked = None;
//! for now in (0..9_000).step_by(10).map(Instant) {
//!     // MARK is down for a tenth of a second.
//!     let mark = (8_000..8_100).contains(&now.0);
//!     app.handle(now, Input::Keys(Levels { mark, ..Levels::default() }));
//!     if now.0 % 100 == 0 {
//!         app.handle(now, Input::Sample(Ok(converted(now.0))));
//!     }
//!     while let Some(effect) = app.poll() {
//!         // A shell appends it to its journal and answers with `Input::Appended`: only then is it shown as noted.
//!         if let Effect::Append(record) = effect {
//!             asked = record.pair_event(1).or(asked);
//!         }
//!     }
//! }
//! let Some((1, PairEvent::WeighIn { yarn, weight })) = asked else { panic!("{asked:?}") };
//! assert_eq!(yarn, YarnLetter::A);
//! assert!((19_950..=20_050).contains(&weight.net.value.0));
//! # Ok::<(), yarn_scale_core::weighing::CalibrationFault>(())
//! ```
//!
//! A journal, replayed into a book:
//!
//! ```
//! use yarn_scale_core::book::Book;
//! use yarn_scale_core::journal::{Journal, JournalFault, Record};
//! # use yarn_scale_core::measured::Measured;
//! # use yarn_scale_core::sock::{Construction, Line, SectionKind, Sock, Weight, YarnLetter};
//! use yarn_scale_core::units::{Milligrams, Stamp};
//! # use embedded_storage::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
//! # struct Memory(Vec<u8>);
//! # impl ErrorType for Memory {
//! #     type Error = core::convert::Infallible;
//! # }
//! # impl ReadNorFlash for Memory {
//! #     const READ_SIZE: usize = 1;
//! #     fn read(&mut self, at: u32, bytes: &mut [u8]) -> Result<(), Self::Error> {
//! #         bytes.copy_from_slice(&self.0[at as usize..][..bytes.len()]);
//! #         Ok(())
//! #     }
//! #     fn capacity(&self) -> usize {
//! #         self.0.len()
//! #     }
//! # }
//! # impl NorFlash for Memory {
//! #     const WRITE_SIZE: usize = 1;
//! #     const ERASE_SIZE: usize = 4_096;
//! #     fn erase(&mut self, from: u32, to: u32) -> Result<(), Self::Error> {
//! #         self.0[from as usize..to as usize].fill(0xFF);
//! #         Ok(())
//! #     }
//! #     fn write(&mut self, at: u32, bytes: &[u8]) -> Result<(), Self::Error> {
//! #         self.0[at as usize..].iter_mut().zip(bytes).for_each(|(is, new)| *is &= new);
//! #         Ok(())
//! #     }
//! # }
//! # let mut flash = Memory(vec![0xFF; 64 * 4_096]);
//! # let (yarn, line) = (YarnLetter::A, 0);
//! # let cuff = Line {
//! #     kind: SectionKind::Cuff,
//! #     sock: Sock::First,
//! #     yarn,
//! #     construction: Construction::Plain,
//! #     stitches: 64,
//! # };
//! # let lines = [cuff].into_iter().collect();
//! # let of = |grams| Weight {
//! #     net: Measured { value: Milligrams::from_grams(grams), u: 20.0 },
//! #     bowl: None,
//! #     air: None,
//! # };
//!
//! // A cake of 50 g, and a cuff for which 7 g of it went.
//! let mut journal = Journal::open(&mut flash, |_| {})?;
//! for (record, second) in [
//!     Record::PairBegun { pair: 1, lines },
//!     Record::WeighIn { yarn, weight: of(50) },
//!     Record::Mark { line, yarn, weight: of(43) },
//! ].into_iter().zip(0..) {
//!     journal.append(&mut flash, Stamp(second), record.of_pair(1))?;
//! }
//!
//! // After a power cut only the flash is left.
//! let mut book = Book::new(Milligrams::from_grams(500));
//! Journal::open(&mut flash, |replayed| book.take(replayed))?;
//! book.settle();
//! assert_eq!(book.ledger().used(line).map(|used| used.value), Some(Milligrams::from_grams(7)));
//! # Ok::<(), JournalFault>(())
//! ```
//!
//! # 6. Will it do?
//! Need is the one-sided prediction bound for the *sum* `S` of the wanted sections, from `n` past pairs:
//! `mean(S) + t(0.95; n − 1) s(S) sqrt(1 + 1/n)`, with Student's t; with fewer than three pairs a quarter over the expectation
//! ([`forecast::answer`]). Sums are formed pair by pair, so that a knitter who knits all of a pair loosely is not
//! counted as if her sections varied each for itself. Before there is any record, geometry and loop length
//! [estimate](forecast::estimated) it.
//!
//! # 7. What the knitter sees, and what a computer may ask
//! A [`screen`] is plain data, drawn afterwards; every word is in one table. The [`link`] to a computer is a side door which the
//! scale never needs.
//!
//! # 8. On which wires
//! A shell brings what [`board`] asks for and runs [`run::Device`]: one loop for the device and the simulator.

#[cfg(test)]
extern crate std;

pub mod app;
pub mod bench;
pub mod board;
pub mod book;
pub mod checksum;
pub mod converter;
pub mod drive;
mod faults;
pub mod forecast;
pub mod journal;
pub mod ledger;
pub mod link;
mod log;
mod math;
pub mod measured;
pub mod recognise;
pub mod report;
pub mod run;
pub mod screen;
pub mod signal;
pub mod sock;
mod ui;
pub mod units;
#[cfg(test)]
#[path = "../../tests/src/values.rs"]
#[allow(
    clippy::arithmetic_side_effects,
    clippy::panic,
    unreachable_pub,
    reason = "it is a file of the tests"
)]
mod values;
pub mod weighing;
