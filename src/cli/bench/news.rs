//! What stands on the page now, and who is told when it changes.

use super::worker::lock;
use flyheft::shown::page::bench::{Fragment, Part};
use std::collections::BTreeMap;
use std::sync::Mutex;
use tokio::sync::watch;

/// How a part of the page stands to the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing {
    /// It is the answer to the sheet as it is.
    Fresh,
    /// It answers an older sheet, and a newer answer is on its way.
    Computing,
    /// It answers an older sheet; the one there is now cannot be used.
    Stale,
}

impl Standing {
    /// What the page's script knows it by.
    pub(super) const fn id(self) -> &'static str {
        match self {
            Self::Fresh => "fresh",
            Self::Computing => "computing",
            Self::Stale => "stale",
        }
    }
}

/// A part as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Kept {
    /// Counts up with every change of anything.
    pub(super) revision: u64,
    /// How it stands to the sheet.
    pub(super) standing: Standing,
    /// Its HTML.
    pub(super) html: String,
    /// What is new in it, for somebody who does not see it.
    pub(super) said: String,
}

#[derive(Debug, Default)]
struct Board {
    revision: u64,
    parts: BTreeMap<Part, Kept>,
    /// When the sheet itself last changed, or how it is kept.
    sheet: u64,
    /// When the sliders last moved.
    sliders: u64,
}

/// All of it.
#[derive(Debug)]
pub(super) struct News {
    board: Mutex<Board>,
    changed: watch::Sender<u64>,
}

/// What has changed since a revision.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Since {
    /// The revision there is now.
    pub(super) revision: u64,
    /// Whether the sheet has.
    pub(super) sheet: bool,
    /// Whether the sliders have.
    pub(super) sliders: bool,
    /// The parts that have.
    pub(super) parts: Vec<(Part, Kept)>,
}

impl News {
    pub(super) fn new() -> Self {
        Self {
            board: Mutex::default(),
            changed: watch::Sender::new(0),
        }
    }

    /// Somebody who is told of every change.
    pub(super) fn listener(&self) -> watch::Receiver<u64> {
        self.changed.subscribe()
    }

    fn change(&self, what: impl FnOnce(&mut Board, u64)) {
        let mut board = lock(&self.board);
        board.revision += 1;
        let revision = board.revision;
        what(&mut board, revision);
        drop(board);
        self.changed.send_replace(revision);
    }

    /// Puts an answer in its place.
    pub(super) fn put(&self, fragment: Fragment) {
        self.change(|board, revision| {
            let kept = Kept {
                revision,
                standing: Standing::Fresh,
                html: fragment.html,
                said: fragment.said,
            };
            board.parts.insert(fragment.part, kept);
        });
    }

    /// Marks parts as no longer answering the sheet.
    pub(super) fn stand(&self, parts: &[Part], standing: Standing) {
        self.change(|board, revision| {
            for part in parts {
                let kept = board.parts.entry(*part).or_insert_with(|| Kept {
                    revision,
                    standing,
                    html: String::new(),
                    said: String::new(),
                });
                kept.revision = revision;
                kept.standing = standing;
                kept.said.clear();
            }
        });
    }

    /// Empties parts.
    pub(super) fn clear(&self, parts: &[Part]) {
        self.change(|board, revision| {
            for part in parts {
                let empty = Kept {
                    revision,
                    standing: Standing::Fresh,
                    html: String::new(),
                    said: String::new(),
                };
                board.parts.insert(*part, empty);
            }
        });
    }

    /// Tells that the sheet has changed, or how it is kept.
    pub(super) fn sheet_changed(&self) {
        self.change(|board, revision| board.sheet = revision);
    }

    /// Tells that the sliders have moved.
    pub(super) fn sliders_moved(&self) {
        self.change(|board, revision| board.sliders = revision);
    }

    /// What has changed since a revision; since 0, all there is.
    pub(super) fn since(&self, revision: u64) -> Since {
        let board = lock(&self.board);
        let newer = board
            .parts
            .iter()
            .filter(|(_, kept)| kept.revision > revision);
        Since {
            revision: board.revision,
            sheet: board.sheet > revision,
            sliders: board.sliders > revision,
            parts: newer.map(|(part, kept)| (*part, kept.clone())).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fragment(part: Part, html: &str) -> Fragment {
        Fragment {
            part,
            html: html.into(),
            said: String::new(),
        }
    }

    #[test]
    fn law_who_was_away_is_told_what_changed_meanwhile_and_no_more() {
        let news = News::new();
        news.put(fragment(Part::Verdict, "one"));
        let seen = news.since(0);
        assert_eq!(seen.parts.len(), 1);
        news.put(fragment(Part::Wheels, "two"));
        news.stand(&[Part::Lathe], Standing::Computing);
        let missed: Vec<Part> = news
            .since(seen.revision)
            .parts
            .into_iter()
            .map(|(p, _)| p)
            .collect();
        assert_eq!(missed, [Part::Wheels, Part::Lathe]);
        let now = news.since(0).revision;
        assert_eq!(news.since(now).parts, []);
    }

    #[test]
    fn law_an_older_answer_stays_until_the_newer_is_there() {
        let news = News::new();
        news.put(fragment(Part::Verdict, "old"));
        news.stand(&[Part::Verdict], Standing::Computing);
        let kept = |news: &News| news.since(0).parts.remove(0).1;
        assert_eq!(
            (kept(&news).html.as_str(), kept(&news).standing),
            ("old", Standing::Computing)
        );
        news.put(fragment(Part::Verdict, "new"));
        assert_eq!(
            (kept(&news).html.as_str(), kept(&news).standing),
            ("new", Standing::Fresh)
        );
    }
}
