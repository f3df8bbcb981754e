//! A name of a list cut into numbers and words: `2"x10"x8' CDR` is 2, in, x, 10, in, x, 8, ft, cdr.

/// One piece of a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Lexeme {
    /// Digits as typed, with a fraction or a decimal mark in them, the mark as a point.
    Number(String),
    /// Letters in lower case; also `#`, `%`, and the units that marks stand for.
    Word(String),
}

impl Lexeme {
    /// The word, when it is one.
    pub(super) fn word(&self) -> Option<&str> {
        match self {
            Self::Word(word) => Some(word),
            Self::Number(_) => None,
        }
    }

    /// The number, when it is one.
    pub(super) fn number(&self) -> Option<&str> {
        match self {
            Self::Number(number) => Some(number),
            Self::Word(_) => None,
        }
    }
}

/// Cuts a name. `decimal_comma` says what `4,8` is.
pub(super) fn lexemes(name: &str, decimal_comma: bool) -> Vec<Lexeme> {
    let plain = plain(name);
    let chars: Vec<char> = plain.chars().collect();
    let mut cut = Cutting {
        chars: &chars,
        at: 0,
        decimal_comma,
        found: Vec::new(),
    };
    while cut.at < chars.len() {
        cut.one();
    }
    whole_and_part(cut.found)
}

fn plain(name: &str) -> String {
    let mut plain = String::with_capacity(name.len());
    for c in name.chars() {
        match c {
            '×' | '*' => plain.push('x'),
            '½' => plain.push_str(" 1/2"),
            '¼' => plain.push_str(" 1/4"),
            '¾' => plain.push_str(" 3/4"),
            '²' => plain.push('2'),
            '³' => plain.push('3'),
            '″' | '”' | '“' => plain.push('"'),
            '′' | '’' | '‘' => plain.push('\''),
            other => plain.extend(other.to_lowercase()),
        }
    }
    plain
}

struct Cutting<'c> {
    chars: &'c [char],
    at: usize,
    decimal_comma: bool,
    found: Vec<Lexeme>,
}

impl Cutting<'_> {
    fn peek(&self, ahead: usize) -> Option<char> {
        self.chars.get(self.at.checked_add(ahead)?).copied()
    }

    fn is_digit(&self, ahead: usize) -> bool {
        self.peek(ahead).is_some_and(|c| c.is_ascii_digit())
    }

    fn one(&mut self) {
        let Some(first) = self.peek(0) else { return };
        let after_number = matches!(self.found.last(), Some(Lexeme::Number(_)));
        if first.is_ascii_digit() || (first == '.' && self.is_digit(1)) {
            self.number();
            return;
        }
        if first.is_alphabetic() {
            self.word();
            return;
        }
        self.at += 1;
        let word = match first {
            '\'' if self.peek(0) == Some('\'') && after_number => {
                self.at += 1;
                "in"
            }
            '"' if after_number => "in",
            '\'' if after_number => "ft",
            '#' => "#",
            '%' => "%",
            _ => return,
        };
        self.found.push(Lexeme::Word(word.to_owned()));
    }

    fn number(&mut self) {
        let mut number = String::new();
        while let Some(c) = self.peek(0) {
            let inside = c.is_ascii_digit() || (matches!(c, '.' | '/' | ',') && self.is_digit(1));
            if !inside {
                break;
            }
            self.at += 1;
            match c {
                ',' if self.decimal_comma => number.push('.'),
                ',' => {}
                '.' if number.is_empty() => number.push_str("0."),
                other => number.push(other),
            }
        }
        self.found.push(Lexeme::Number(number));
    }

    fn word(&mut self) {
        let mut word = String::new();
        while let Some(c) = self.peek(0) {
            let inside =
                c.is_alphabetic() || (c == '\'' && self.peek(1).is_some_and(char::is_alphabetic));
            if !inside {
                break;
            }
            self.at += 1;
            if c != '\'' {
                word.push(c);
            }
            // `2x10` is a number, an x and a number, and so is `2 xl`, which nobody sells.
            if word == "x" && self.is_digit(0) {
                break;
            }
        }
        let is_side = matches!(word.as_str(), "m" | "ft" | "yd" | "in" | "cm" | "mm");
        let power = self.peek(0).filter(|c| matches!(c, '2' | '3'));
        if let Some(power) = power.filter(|_| is_side && !self.is_digit(1)) {
            self.at += 1;
            word.push(power);
        }
        self.found.push(Lexeme::Word(word));
    }
}

/// `1 1/2` and `1-1/2` are one number.
fn whole_and_part(found: Vec<Lexeme>) -> Vec<Lexeme> {
    let mut joined: Vec<Lexeme> = Vec::with_capacity(found.len());
    for lexeme in found {
        if let (Some(Lexeme::Number(whole)), Lexeme::Number(part)) = (joined.last_mut(), &lexeme)
            && part.contains('/')
            && whole.bytes().all(|b| b.is_ascii_digit())
        {
            *whole = format!("{whole} {part}");
            continue;
        }
        joined.push(lexeme);
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(name: &str, expected: &str) {
        let pieces: Vec<String> = lexemes(name, false)
            .into_iter()
            .map(|l| match l {
                Lexeme::Number(text) | Lexeme::Word(text) => text,
            })
            .collect();
        assert_eq!(pieces.join("|"), expected);
    }

    #[test]
    fn names_are_cut_into_numbers_and_words() {
        check("2\"x10\"x8' CDR", "2|in|x|10|in|x|8|ft|cdr");
        check("2X10X8 CEDAR #2", "2|x|10|x|8|cedar|#|2");
        check("Hdwr cloth 1/2\" 19ga", "hdwr|cloth|1/2|in|19|ga");
        check("Gravel 1-1/2 in.", "gravel|1 1/2|in");
        check("Topsoil (screened), m³", "topsoil|screened|m3");
        check("Farmer's mix 70/30", "farmers|mix|70/30");
        check("Screws, 1,000 pcs", "screws|1000|pcs");
        assert_eq!(
            lexemes("4,8 m", true),
            [
                Lexeme::Number("4.8".to_owned()),
                Lexeme::Word("m".to_owned())
            ]
        );
    }
}
