//! The screen that a text is set for.

use super::paint::Paint;

/// Columns of an ordinary terminal, and of what is no terminal.
const WIDTH: usize = 80;
/// Lines of an ordinary terminal.
const HEIGHT: usize = 24;
/// Narrower screens wrap by themselves.
const NARROWEST: usize = 60;
/// Wider lines are hard to follow.
const WIDEST: usize = 120;
/// More lines are not read as one screen.
const TALLEST: usize = 50;

/// Colours and size of a screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Screen {
    /// Whether there are colours.
    pub paint: Paint,
    /// Columns.
    pub width: usize,
    /// Lines, the one of the next command among them.
    pub height: usize,
}

impl Screen {
    /// A terminal of this many columns and lines, within reason; `None` for what has no size, which
    /// gets 80 columns and 24 lines.
    pub fn of(paint: Paint, size: Option<(u16, u16)>) -> Self {
        let (width, height) = size.map_or((WIDTH, HEIGHT), |(columns, lines)| {
            (usize::from(columns), usize::from(lines))
        });
        Self {
            paint,
            width: width.clamp(NARROWEST, WIDEST),
            height: height.clamp(HEIGHT, TALLEST),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_screen_is_as_wide_as_the_terminal_within_reason() {
        let size = |size| {
            let screen = Screen::of(Paint::Plain, size);
            (screen.width, screen.height)
        };
        assert_eq!(size(None), (80, 24));
        assert_eq!(size(Some((100, 40))), (100, 40));
        assert_eq!(size(Some((20, 5))), (60, 24));
        assert_eq!(size(Some((400, 200))), (120, 50));
    }
}
