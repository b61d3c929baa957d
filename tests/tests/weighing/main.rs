//! Weighing against standards and certified data.

mod amended;
mod amended_noise;
mod budget;
mod calibration;
mod conditions;
mod creep;
mod display;
mod empty_pan;
mod limits;
mod properties;
mod published;
mod restless;
mod rules;
mod scale;
mod statistics;
mod table;
mod zero;
