//! A recording of a simulated pan, written as the replay reads it, and what the replay says to it.

use serde_json::Value;
use yarn_scale_core::converter::SampleRate;
use yarn_scale_sim::failure::Failure;
use yarn_scale_sim::replay::{Replay, TimeUnit};
use yarn_scale_sim::world::{Body, BodyId, Room, Unit, World};

/// A recording in the making: the world, and the lines of the two tables.
pub(super) struct Tape {
    pub(super) world: World,
    pub(super) trace: String,
    pub(super) marks: String,
}

impl Tape {
    pub(super) fn new(unit: Unit, rate: SampleRate) -> Self {
        Self {
            world: World::new(unit, rate, Room::constant()),
            trace: "t_ms,raw\n".to_owned(),
            marks: "t_ms,event\n".to_owned(),
        }
    }

    pub(super) fn wait(&mut self, seconds: f64) {
        let trace = &mut self.trace;
        self.world.advance(self.world.now() + seconds, |conversion| {
            if let Some(raw) = conversion.raw {
                trace.push_str(&format!("{},{raw}\n", (conversion.at * 1_000.0) as u64));
            }
        });
    }

    pub(super) fn put(&mut self, grams: f64) -> BodyId {
        let id = self.world.put(Body::dry(grams));
        self.wait(8.0);
        id
    }

    pub(super) fn take(&mut self, id: BodyId) {
        self.world.take(id);
        self.wait(8.0);
    }

    pub(super) fn press(&mut self, event: &str) {
        self.marks
            .push_str(&format!("{},{event}\n", (self.world.now() * 1_000.0) as u64));
        self.wait(4.0);
    }

    /// What the replay says to it, line by line.
    pub(super) fn replay(&self) -> Vec<Value> {
        let calibration = self.world.calibration();
        let sps = if self.world.period_s() < 0.05 { 80 } else { 10 };
        let calibration = serde_json::json!({
            "zero_counts": calibration.zero_counts.round() as i64, "counts_per_g": calibration.counts_per_g,
            "capacity_g": 500.0, "sps": sps, "division_g": 0.1,
        });
        let out = replay(&self.trace, &calibration.to_string(), &self.marks).expect("replays");
        let text = String::from_utf8(out).expect("UTF-8");
        text.lines()
            .map(|line| serde_json::from_str(line).expect("a JSON object a line"))
            .collect()
    }

    /// The presses among it.
    pub(super) fn events(&self) -> Vec<Value> {
        let is_press = |line: &Value| line.get("event").is_some_and(|event| event != "amend");
        self.replay().into_iter().filter(is_press).collect()
    }

    /// The amendments among it.
    pub(super) fn amendments(&self) -> Vec<Value> {
        self.replay()
            .into_iter()
            .filter(|line| line["event"] == "amend")
            .collect()
    }
}

pub(super) fn replay(trace: &str, calibration: &str, marks: &str) -> Result<Vec<u8>, Failure> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let write = |name: &str, text: &str| {
        let file = folder.path().join(name);
        std::fs::write(&file, text).expect("a temporary file");
        file
    };
    let command = Replay {
        trace: write("trace.csv", trace),
        cal: write("cal.json", calibration),
        time: TimeUnit::Milliseconds,
        marks: Some(write("marks.csv", marks)),
    };
    let mut out = Vec::new();
    command.run(&mut out).map(|()| out)
}

pub(super) fn near(value: &Value, mg: i64) -> bool {
    value.as_i64().is_some_and(|value| (value - mg).abs() <= 60)
}
