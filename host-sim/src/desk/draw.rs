//! The desk on the terminal: the display, pixel by pixel, what lies where, and what the keys do.

use ratatui::Frame;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::{Color, Modifier, Style};
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, BorderType, Clear, Paragraph};

use yarn_scale_core::board::Speed;
use yarn_scale_core::screen::Body;

use super::state::Desk;
use crate::device::dots;
use crate::device::panel::{HEIGHT, WIDTH};

/// Draws everything into whatever room there is.
pub fn draw(desk: &Desk, frame: &mut Frame<'_>) {
    let area = frame.area();
    if area.width < SMALLEST.0 || area.height < SMALLEST.1 {
        let text = format!(
            "The desk needs {} x {} characters; this terminal has {} x {}.",
            SMALLEST.0, SMALLEST.1, area.width, area.height
        );
        frame.render_widget(Paragraph::new(text), area);
        return;
    }
    let fits = |picture: &Picture| area.width >= picture.needs().0 && area.height >= picture.needs().1;
    let picture = Picture::ALL.into_iter().find(fits).unwrap_or(Picture::Braille);
    let (columns, rows) = picture.size();
    let [title, middle, keys, said, help] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Length(rows + 2),
        Constraint::Length(1),
        Constraint::Length(1),
        Constraint::Min(3),
    ])
    .areas(area);
    let [display, side] = Layout::horizontal([Constraint::Length(columns + 2), Constraint::Min(14)]).areas(middle);
    draw_title(desk, frame, title);
    draw_display(desk, frame, display, picture);
    draw_side(desk, frame, side);
    let [under, beside] = Layout::horizontal([Constraint::Length(display.width), Constraint::Min(14)]).areas(keys);
    draw_keys(frame, under);
    let faint = Style::new().fg(Color::DarkGray);
    frame.render_widget(Paragraph::new(format!(" {}", power(desk))).style(faint), beside);
    frame.render_widget(
        Paragraph::new(format!(" {}", desk.said)).style(Style::new().fg(Color::Yellow)),
        said,
    );
    frame.render_widget(Paragraph::new(HELP.map(Line::from).to_vec()), help);
    if desk.help {
        draw_long_help(frame, area);
    }
}

fn draw_title(desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let seconds = desk.simulator.now_s() as u64;
    let (day, hour, minute, second) = (
        seconds / 86_400 + 1,
        seconds / 3_600 % 24,
        seconds / 60 % 60,
        seconds % 60,
    );
    let clock = format!("day {day}, {hour:02}:{minute:02}:{second:02}  x{} ", desk.speed);
    let title = " Yarn scale on the desk - simulated, an invented pair";
    let gap = usize::from(area.width).saturating_sub(title.len() + clock.len());
    let line = format!("{title}{}{clock}", " ".repeat(gap));
    frame.render_widget(
        Paragraph::new(line).style(Style::new().add_modifier(Modifier::REVERSED)),
        area,
    );
}

fn draw_display(desk: &Desk, frame: &mut Frame<'_>, area: Rect, picture: Picture) {
    let seen = desk.simulator.board.panel().seen();
    let lines = match picture {
        Picture::Blocks => dots::blocks(&seen),
        Picture::HalfBlocks => dots::half_blocks(&seen),
        Picture::Braille => dots::braille(&seen),
    };
    let lines: Vec<_> = lines.into_iter().map(Line::from).collect();
    let bezel = Block::bordered()
        .border_type(BorderType::Rounded)
        .border_style(Style::new().fg(Color::DarkGray));
    let style = Style::new().fg(Color::White).bg(Color::Black);
    frame.render_widget(Paragraph::new(lines).style(style).block(bezel), area);
}

fn draw_side(desk: &Desk, frame: &mut Frame<'_>, area: Rect) {
    let world = desk.simulator.board.world();
    let faint = Style::new().fg(Color::DarkGray);
    let mut lines = Vec::new();
    for (heading, on_pan) in [("on the pan", true), ("in the basket", false)] {
        lines.push(Line::styled(format!(" {heading}"), faint));
        for (thing, number) in desk.things.all().iter().zip(1..) {
            if thing.on_pan() == on_pan {
                lines.push(Line::from(vec![
                    Span::styled(format!("{number}"), Style::new().add_modifier(Modifier::BOLD)),
                    Span::raw(format!(" {}", thing.name)),
                ]));
                lines.push(Line::styled(format!("  {:.2} g", thing.mass_g(world)), faint));
            }
        }
    }
    let room = format!("{:.1} C {:.0} %", world.room.air_celsius(), world.room.humidity);
    lines.push(Line::styled(" room", faint));
    lines.push(Line::from(format!("  {room}")));
    let mut state = Vec::new();
    if !desk.simulator.is_on() {
        state.push("NO POWER");
    }
    if !world.connected {
        state.push("NO SENSOR");
    }
    if desk.hand_rests() {
        state.push("HAND ON");
    }
    lines.extend(
        state
            .into_iter()
            .map(|text| Line::styled(format!("  {text}"), Style::new().fg(Color::Red))),
    );
    frame.render_widget(Paragraph::new(lines), area);
}

/// The three keys of the device, under the words that the display gives them.
fn draw_keys(frame: &mut Frame<'_>, area: Rect) {
    let third = usize::from(area.width) / 3;
    let keys = [("z", "ZERO"), ("m", "MARK"), ("n", "NEXT")];
    let text: String = keys
        .iter()
        .map(|(letter, name)| format!("{:^third$}", format!("[ {letter}  {name} ]")))
        .collect();
    frame.render_widget(
        Paragraph::new(text).style(Style::new().add_modifier(Modifier::BOLD)),
        area,
    );
}

/// How deep the scale sleeps, and how fast its processor runs.
fn power(desk: &Desk) -> &'static str {
    let Some(app) = desk.simulator.app() else { return "off" };
    match (app.view().body, desk.simulator.board.speed()) {
        (Body::Dark, _) if app.wait().stopped => "deep, stopped",
        (Body::Dark, Speed::Slow) => "dark, 12 MHz",
        (Body::Dark, Speed::Fast) => "dark, 125 MHz",
        (_, Speed::Slow) => "awake, 12 MHz",
        (_, Speed::Fast) => "awake,125 MHz",
    }
}

fn draw_long_help(frame: &mut Frame<'_>, area: Rect) {
    let (width, height) = (66.min(area.width), (LONG_HELP.len() as u16 + 2).min(area.height));
    let area = Rect {
        x: (area.width - width) / 2,
        y: (area.height - height) / 2,
        width,
        height,
    };
    let lines: Vec<_> = LONG_HELP.iter().copied().map(Line::from).collect();
    frame.render_widget(Clear, area);
    frame.render_widget(
        Paragraph::new(lines).block(Block::bordered().title(" keys - any key closes this ")),
        area,
    );
}

/// The terminal that it must fit.
pub const SMALLEST: (u16, u16) = (80, 24);

/// How the display's pixels become characters: as large as the terminal has room for.
#[derive(Clone, Copy, Debug)]
enum Picture {
    Blocks,
    HalfBlocks,
    Braille,
}

impl Picture {
    /// All of them, the largest first.
    const ALL: [Self; 3] = [Self::Blocks, Self::HalfBlocks, Self::Braille];

    /// Columns and rows of characters.
    const fn size(self) -> (u16, u16) {
        let (width, height) = (WIDTH as u16, HEIGHT as u16);
        match self {
            Self::Blocks => (2 * width, height),
            Self::HalfBlocks => (width, height / 2),
            Self::Braille => (width / 2, height / 4),
        }
    }

    /// The terminal that has room for it, with its rim, the list beside it and the lines around it.
    const fn needs(self) -> (u16, u16) {
        let (columns, rows) = self.size();
        (columns + 2 + 18, rows + 2 + 6)
    }
}

/// Always to be seen.
const HELP: [&str; 3] = [
    " z m n press the keys, capitals hold   1-9 on/off the pan   k K knit 0.5 / 5 g",
    " t tug  b bump  f footsteps  h hand  w c warmer colder  p power  s sensor",
    " d a day passes  l wash the socks  space faster  ? more  q quit",
];

const LONG_HELP: [&str; 18] = [
    "z  m  n     press ZERO, MARK, NEXT briefly",
    "Z  M  N     hold them: hold MARK to take the last mark back,",
    "            hold NEXT for the menu; keep the letter down to run on",
    "1 to 9      put that thing on the pan, or lift it off",
    "k  K        knit half a gram, or five, from the yarn that was",
    "            last on the pan, whether it lies there or not",
    "t           a tug on the strand",
    "b  f        something bumps the pan; somebody walks by",
    "h           a hand rests on the pan, until the next h",
    "w  c        the room gets 2 degrees warmer, colder",
    "p           the power is cut, or comes back",
    "s           the sensor is unplugged, or plugged in",
    "d           a day passes",
    "l           the finished socks are washed, and dry again slowly",
    "space       time passes 1, 10, 60 times as fast",
    "q  Ctrl-C   leave the desk; nothing is kept",
    "",
    "Grey masses at the right are the truth, which no scale knows.",
];
