#![no_std]
//! Everything the yarn scale decides: weighing, section ledger, answers, screens.
//!
//! The line that data takes, one module a step, each with a type as its hand-over:
//!
//! raw counts → checked sample → load in counts, steady or not → grams → visit → mark → ledger → answer → screen
//!
//! To read it as a book, follow that line.
//!
//! # 1. What a settled reading is
//! Each conversion is [checked](signal::check) by itself and among its neighbours, brought to a [tick](signal::tick) of a tenth of a
//! second, and tested against the ticks since the last change ([`signal::segment`], a likelihood ratio). A level may be trusted once
//! three things hold: the segment is settled; its standard error `s sqrt(c / n)`, with the spread `s` and the factor `c` for the
//! likeness of neighbours as [this unit has shown](signal::noise) them, is small enough for a tenth of a gram; and nothing but the load acts on the
//! pan, by the vote of [small trees](signal::steadiness). The [estimator](signal::estimator) says what that costs in time, and where it stops
//! between quick and sure. Only settling makes a [`signal::SteadyLevel`].
//!
//! # 2. How zero is kept
//! What lies on the pan can be told from a shifted zero only by how the level came about: [`weighing::zero`] takes a level for the
//! empty pan at power-on, whenever a load has gone off, and while the pan is known to be empty; under a load never, since a slow
//! change there is yarn being knitted. Between two empty pans the cell has crept; what that teaches is taken out, within bounds
//! that cannot invent yarn ([`weighing::creep`]).
//!
//! # 3. From counts to grams
//! Known masses give a straight line by least squares, three or more of them a slight bend if the residuals ask for it
//! ([`weighing::calibration`], [`weighing::fit`]). Grams are shown [with hysteresis](weighing::indication), quiet at rest and quick when it
//! means something ([`weighing::display`]); the ledger gets the fine value.
//!
//! # 4. What a difference is worth
//! Every reading carries the [budget](weighing::budget) of its standard uncertainty, combined as in the GUM (JCGM 100:2008, 5.1.2):
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
//! # 6. Will it do?
//! Need is the one-sided prediction bound for the *sum* `S` of the wanted sections, from `n` past pairs:
//! `mean(S) + t(0.95; n − 1) s(S) sqrt(1 + 1/n)`, with Student's t; with fewer than three pairs a quarter over the expectation
//! ([`forecast::answer`]). Sums are formed pair by pair, so that a knitter who knits all of a pair loosely is not
//! counted as if her sections varied each for itself. Before there is any record, geometry and loop length
//! [estimate](forecast::estimate) it.
//!
//! # 7. What the knitter sees, and what a computer may ask
//! A [`screen`] is plain data, drawn afterwards; every word is in one table. The [`link`] to a computer is a side door which the
//! scale never needs.
//!
//! # 8. On which wires
//! A shell brings what [`board`] asks for and runs [`run::Device`]: one loop for the device and the simulator.

pub mod app;
pub mod board;
pub mod book;
pub mod converter;
pub mod drive;
mod faults;
pub mod forecast;
pub mod journal;
pub mod ledger;
pub mod link;
mod log;
pub mod math;
pub mod measured;
pub mod recognise;
pub mod run;
pub mod screen;
pub mod signal;
pub mod sock;
pub mod ui;
pub mod units;
pub mod weighing;
