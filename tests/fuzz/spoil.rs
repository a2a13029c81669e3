//! How a job file is spoilt: its bytes, its tokens, its depth and its numbers.

use risemark_tests::random::Random;

/// Makes spoilt texts out of good ones, without end.
#[derive(Debug)]
pub(crate) struct Spoiler {
    examples: Vec<String>,
    /// Every token of every example, so that words of the format turn up in wrong places.
    tokens: Vec<String>,
    dice: Dice,
}

/// Whole numbers that are the same whenever the seed is.
#[derive(Debug)]
struct Dice(Random);

/// One way to spoil a text.
type Way = fn(&mut Spoiler, &str) -> String;

const WAYS: [Way; 9] = [
    flip_bit,
    drop_stretch,
    repeat_stretch,
    splice,
    nest,
    replace_token,
    swap_tokens,
    replace_number,
    nudge_number,
];

/// Numbers at which arithmetic is likeliest to fail.
const NUMBERS: [&str; 20] = [
    "0",
    "-0",
    "-1",
    "1e-9",
    "1e-320",
    "0.005",
    "0.015",
    "1e9",
    "1e15",
    "1e300",
    "-1e300",
    "1e400",
    "255",
    "256",
    "4294967296",
    "9007199254740993",
    "9223372036854775808",
    "18446744073709551616",
    "99999999999999999999999999999999999999999",
    "0.1e1",
];

impl Spoiler {
    pub(crate) fn new(examples: Vec<String>, seed: u64) -> Self {
        let mut tokens: Vec<String> =
            examples.iter().flat_map(|text| tokens(text)).map(str::to_owned).collect();
        tokens.sort();
        tokens.dedup();
        Self { examples, tokens, dice: Dice(Random::seeded(seed)) }
    }

    /// The next text; most are spoilt in few places, since others are refused at once.
    pub(crate) fn next_text(&mut self) -> String {
        let example = self.dice.below(self.examples.len());
        let mut text = self.examples[example].clone();
        // A job that is nudged a little is mostly still read, and comes as far as the planner.
        if self.dice.below(3) == 0 {
            for _ in 0..=self.dice.below(4) {
                text = nudge_number(self, &text);
            }
            return text;
        }
        for _ in 0..=self.dice.below(3) {
            let way = WAYS[self.dice.below(WAYS.len())];
            text = way(self, &text);
        }
        text
    }

    /// A stretch of bytes, mostly short.
    fn stretch(&mut self, text: &str) -> (usize, usize) {
        let from = self.dice.below(text.len() + 1);
        let most = [4, 40, 400, 4000][self.dice.below(4)];
        (from, (from + self.dice.below(most)).min(text.len()))
    }

    /// The positions of the tokens that a test chooses, and one of them by chance.
    fn some_token<'t>(
        &mut self,
        text: &'t str,
        wanted: fn(&str) -> bool,
    ) -> Option<(usize, &'t str)> {
        let chosen: Vec<&str> = tokens(text).into_iter().filter(|token| wanted(token)).collect();
        let token = *chosen.get(self.dice.below(chosen.len().max(1)))?;
        Some((token.as_ptr().addr() - text.as_ptr().addr(), token))
    }
}

impl Dice {
    /// A number from 0 to one less than a limit.
    fn below(&mut self, limit: usize) -> usize {
        let limit = u64::try_from(limit).unwrap_or(u64::MAX).max(1);
        usize::try_from(self.0.bits() % limit).unwrap_or(0)
    }
}

fn flip_bit(spoiler: &mut Spoiler, text: &str) -> String {
    let mut bytes = text.as_bytes().to_vec();
    let place = spoiler.dice.below(bytes.len());
    if let Some(byte) = bytes.get_mut(place) {
        *byte ^= 1 << spoiler.dice.below(8);
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn drop_stretch(spoiler: &mut Spoiler, text: &str) -> String {
    let (from, to) = spoiler.stretch(text);
    joined(text, (from, to), &[])
}

fn repeat_stretch(spoiler: &mut Spoiler, text: &str) -> String {
    let (from, to) = spoiler.stretch(text);
    let times = [1, 2, 50][spoiler.dice.below(3)];
    joined(text, (to, to), &text.as_bytes()[from..to].repeat(times))
}

fn splice(spoiler: &mut Spoiler, text: &str) -> String {
    let other = spoiler.dice.below(spoiler.examples.len());
    let other = spoiler.examples[other].clone();
    let (from, to) = spoiler.stretch(&other);
    let place = spoiler.stretch(text);
    joined(text, place, &other.as_bytes()[from..to])
}

fn nest(spoiler: &mut Spoiler, text: &str) -> String {
    let depth = [3, 120, 5_000, 200_000][spoiler.dice.below(4)];
    let (open, close) = [("[", "]"), ("{\"at\":", "}")][spoiler.dice.below(2)];
    let Some((at, token)) = spoiler.some_token(text, |token| token != ":" && token != ",") else {
        return open.repeat(depth);
    };
    let nested = format!("{}{token}{}", open.repeat(depth), close.repeat(depth));
    joined(text, (at, at + token.len()), nested.as_bytes())
}

fn replace_token(spoiler: &mut Spoiler, text: &str) -> String {
    let new = spoiler.dice.below(spoiler.tokens.len());
    let new = spoiler.tokens[new].clone();
    let Some((at, token)) = spoiler.some_token(text, |_| true) else {
        return new;
    };
    joined(text, (at, at + token.len()), new.as_bytes())
}

fn swap_tokens(spoiler: &mut Spoiler, text: &str) -> String {
    let pair = (spoiler.some_token(text, |_| true), spoiler.some_token(text, |_| true));
    let (Some((a, one)), Some((b, other))) = pair else {
        return text.to_owned();
    };
    // The later one first, so that its place still holds.
    let [(early, first), (late, last)] =
        if a < b { [(a, one), (b, other)] } else { [(b, other), (a, one)] };
    let text = joined(text, (late, late + last.len()), first.as_bytes());
    joined(&text, (early, early + first.len()), last.as_bytes())
}

fn replace_number(spoiler: &mut Spoiler, text: &str) -> String {
    let new = NUMBERS[spoiler.dice.below(NUMBERS.len())];
    let Some((at, token)) = spoiler.some_token(text, is_number) else {
        return text.to_owned();
    };
    joined(text, (at, at + token.len()), new.as_bytes())
}

/// A number near the one that stood there, or a share of it.
fn nudge_number(spoiler: &mut Spoiler, text: &str) -> String {
    let Some((at, token)) = spoiler.some_token(text, is_number) else {
        return text.to_owned();
    };
    let value: f64 = token.parse().unwrap_or(0.0);
    let factor = [1.0, 1.0, 1.0, 0.999_999, 1.000_001, 0.9, 1.1, 0.5, 2.0, 10.0];
    let shift = [0.0, 0.01, -0.01, 1.0, -1.0, 25.4, -25.4, 300.0];
    let nudged =
        value * factor[spoiler.dice.below(factor.len())] + shift[spoiler.dice.below(shift.len())];
    joined(text, (at, at + token.len()), nudged.to_string().as_bytes())
}

fn is_number(token: &str) -> bool {
    token.parse::<f64>().is_ok()
}

/// A text with a stretch of it replaced.
fn joined(text: &str, (from, to): (usize, usize), new: &[u8]) -> String {
    let bytes = text.as_bytes();
    let joined = [&bytes[..from], new, &bytes[to..]].concat();
    String::from_utf8_lossy(&joined).into_owned()
}

/// The tokens of a JSON text, or of what was one.
fn tokens(text: &str) -> Vec<&str> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = match first {
            '"' => string_length(rest),
            '{' | '}' | '[' | ']' | ':' | ',' => 1,
            _ => rest
                .find(|c: char| "\"{}[]:,".contains(c) || c.is_whitespace())
                .unwrap_or(rest.len()),
        };
        let length = length.max(first.len_utf8());
        if !first.is_whitespace() {
            tokens.push(&rest[..length]);
        }
        rest = &rest[length..];
    }
    tokens
}

fn string_length(text: &str) -> usize {
    let mut escaped = false;
    for (place, c) in text.char_indices().skip(1) {
        match c {
            '"' if !escaped => return place + 1,
            '\\' => escaped = !escaped,
            _ => escaped = false,
        }
    }
    text.len()
}
