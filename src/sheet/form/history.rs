//! What was changed in a text, byte for byte, so that it can be taken back and made again.

/// Bytes of a text and what stands in their place afterwards.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Patch {
    /// Where they begin.
    pub(super) at: usize,
    pub(super) before: String,
    pub(super) after: String,
}

impl Patch {
    /// The least patch that makes one text of another; `None` where they are the same.
    pub(super) fn between(before: &str, after: &str) -> Option<Self> {
        if before == after {
            return None;
        }
        let same = |(a, b): &(char, char)| a == b;
        let head: usize = before
            .chars()
            .zip(after.chars())
            .take_while(same)
            .map(|(c, _)| c.len_utf8())
            .sum();
        let (old, new) = (before.get(head..)?, after.get(head..)?);
        let tail: usize = old
            .chars()
            .rev()
            .zip(new.chars().rev())
            .take_while(same)
            .map(|(c, _)| c.len_utf8())
            .sum();
        Some(Self {
            at: head,
            before: old.get(..old.len() - tail)?.to_owned(),
            after: new.get(..new.len() - tail)?.to_owned(),
        })
    }

    fn make(&self, text: &mut String) {
        replace(text, self.at, &self.before, &self.after);
    }

    fn take_back(&self, text: &mut String) {
        replace(text, self.at, &self.after, &self.before);
    }
}

fn replace(text: &mut String, at: usize, from: &str, to: &str) {
    debug_assert_eq!(text.get(at..at + from.len()), Some(from));
    text.replace_range(at..at + from.len(), to);
}

/// Steps that can be taken back, and those that were.
#[derive(Debug, Clone, Default)]
pub(super) struct History {
    past: Vec<Patch>,
    future: Vec<Patch>,
}

impl History {
    /// Brings a text to another, as one step.
    pub(super) fn step(&mut self, text: &mut String, to: &str) -> bool {
        let Some(patch) = Patch::between(text, to) else {
            return false;
        };
        patch.make(text);
        self.past.push(patch);
        self.future.clear();
        true
    }

    pub(super) fn undo(&mut self, text: &mut String) -> bool {
        let Some(patch) = self.past.pop() else {
            return false;
        };
        patch.take_back(text);
        self.future.push(patch);
        true
    }

    pub(super) fn redo(&mut self, text: &mut String) -> bool {
        let Some(patch) = self.future.pop() else {
            return false;
        };
        patch.make(text);
        self.past.push(patch);
        true
    }

    pub(super) const fn steps(&self) -> usize {
        self.past.len()
    }

    pub(super) const fn steps_undone(&self) -> usize {
        self.future.len()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_patch_holds_what_differs_alone() {
        let patch = Patch::between("grip = 1.21 # mine", "grip = 1.31 # mine").unwrap();
        assert_eq!((patch.at, &*patch.before, &*patch.after), (9, "2", "3"));
        // Characters that share bytes are not cut in two.
        let patch = Patch::between("5 m²", "5 m³").unwrap();
        assert_eq!((&*patch.before, &*patch.after), ("²", "³"));
        assert_eq!(Patch::between("aa", "aaa").unwrap().after, "a");
        assert_eq!(Patch::between("same", "same"), None);
    }
}
