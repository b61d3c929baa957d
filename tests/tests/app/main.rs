//! The application as a person meets it: presses, loads, faults, notices.

mod answers;
mod battery;
mod bench_check;
mod cakes_of_other_pairs;
mod estimate;
mod every_gram;
mod faults;
mod faults_of_people;
mod free_plan;
mod hostile_input;
mod how_far;
mod knitters_with_slips;
mod make_room;
mod marking;
mod navigation;
mod one_stay;
mod parts;
mod properties;
mod restore_page;
mod several_pairs;
mod slips;
mod slips_of_the_pen;
mod unplugged;
mod waiting_marks;
mod woken;
mod yarn_names;
