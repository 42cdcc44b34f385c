"""`Session`: a site while it is open: its draft, saved at every change, with undo and redo."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from planner.errors import InputError, SketchError
from planner.page.disk import alike, changed, files_of, text_on_disk, write_whole
from planner.page.journal import Journal, Step, Story
from planner.page.lock import SiteLock
from planner.site.draft import Draft
from planner.site.edits.apply import edited
from planner.site.edits.open import open_draft
from planner.site.edits.value import Edit
from planner.site.edits.words import edit_words

OUTSIDE = "changes made outside"


class Session:
    """One site, open.

    A change is in the journal first, then in the files, each written whole; whatever kills the
    process, the next session finds all steps and finishes what was being saved. A file that
    another hand changed meanwhile becomes a step of its own: nothing is overwritten unseen.

    Parameters
    ----------
    draft : Draft
        As `open_draft` gives it.
    new : bool
        Nothing of it is on disk: it is first written when it is first changed.

    Raises
    ------
    SiteError
        The site is open in another process.
    OutputError
        Its folder can't be written.
    SketchError
        Its sketch lies where it can't be changed.
    """

    def __init__(self, draft: Draft, *, new: bool = False) -> None:
        self.revision = 0
        self.trouble = ""  # why the last change is not on disk, "" where it is
        self._known: dict[Path, str] = {} if new else files_of(draft)  # what is thought on disk
        self._journal = Journal(draft.site_path)
        self._journaled = False
        self._lock = SiteLock(draft.site_path)
        self._steps, self._at = [Step("", draft)], 0
        story = None if new else self._journal.told(draft.folder, draft.site_name)
        if story is not None and _own(story):
            self._go_on(story, draft)

    @property
    def draft(self) -> Draft:
        """The site as it stands."""
        return self._steps[self._at].draft

    @property
    def undo_words(self) -> str:
        """What `undo` takes back, "" where there is nothing."""
        return self._steps[self._at].words if self._at else ""

    @property
    def redo_words(self) -> str:
        """What `redo` does again, "" where there is nothing."""
        return self._steps[self._at + 1].words if self._at + 1 < len(self._steps) else ""

    @property
    def saved(self) -> bool:
        """Whether the files hold the draft."""
        return all(self._known.get(path) == text for path, text in files_of(self.draft).items())

    def do(self, edit: Edit) -> Draft:
        """Change the site, and save it; where the disk refuses, `trouble` says why.

        Raises
        ------
        SiteError, SketchError
            The edit can't be done; nothing is changed.
        """
        self._take_in()
        return self._step(edit_words(edit), edited(self.draft, edit))

    def restore(self, draft: Draft, words: str) -> Draft:
        """Take another draft of this site for the one there is, as one step."""
        self._take_in()
        return self._step(words, draft)

    def undo(self) -> None:
        """Take the last step back; of changes made outside, only take them in."""
        if not self._take_in() and self._at:
            self._move(self._at - 1)

    def redo(self) -> None:
        """Do again what was taken back, unless changes made outside came between."""
        if not self._take_in() and self.redo_words:
            self._move(self._at + 1)

    def changed_outside(self) -> bool:
        """Whether another hand changed a file; the next change takes that in first.

        Raises
        ------
        InputError
            A file is there and can't be read.
        """
        try:
            return changed(files_of(self.draft), self._known)
        except OSError as error:
            msg = f"{self.draft.site_name} or its sketch can't be read again ({error.strerror})"
            raise InputError(msg) from error

    def save(self) -> bool:
        """Try again to save what the disk refused; whether the files hold the draft now."""
        if self.trouble:
            self._save()
        return self.saved

    def close(self) -> None:
        """Give the site free; what could not be saved stays in the journal."""
        if self.save() or not self.trouble:
            self._journal.end()
        self._lock.free()

    def _go_on(self, story: Story, draft: Draft) -> None:
        """Go on after a session that was not closed."""
        self._steps, self._at = list(story.steps), story.at
        wanted = files_of(self.draft)
        found = {path: text_on_disk(path) for path in wanted}
        there = {path: text for path, text in found.items() if text is not None}
        self._known = {}
        torn = not story.saved and all(self._was_ours(*one) for one in there.items())
        same = all(alike(text, wanted[path]) for path, text in there.items())
        self._known = there
        if torn or same:
            self._save()
        else:
            self._known |= files_of(draft)
            self._step(OUTSIDE, draft)

    def _take_in(self) -> bool:
        """Make a step of what another hand changed; whether there was anything."""
        if not self.changed_outside():
            return False
        try:
            found = open_draft(self.draft.site_path)
        except InputError:  # told when it is planned; undo goes back behind it
            found = self._as_found()
        self._known |= files_of(found)
        self._step(OUTSIDE, found)
        return True

    def _as_found(self) -> Draft:
        """The files as they are, though they make no site."""
        now, found = self.draft, {path: text_on_disk(path) for path in files_of(self.draft)}
        site, sketch = found[now.site_path], found.get(now.sketch_path or now.site_path)
        return replace(
            now,
            site=now.site if site is None else site,
            sketch=now.sketch if sketch is None or not now.sketch_name else sketch,
        )

    def _step(self, words: str, draft: Draft) -> Draft:
        last = self.draft
        if draft == last:
            return last
        self._refuse_strangers(draft)
        step = Step(words, draft)
        self._steps[self._at + 1 :] = [step]
        self._at += 1
        self._changed(lambda: self._journal.stepped(step, last))
        return draft

    def _move(self, at: int) -> None:
        self._refuse_strangers(self._steps[at].draft)
        self._at = at
        self._changed(lambda: self._journal.moved(at))

    def _changed(self, journal: Callable[[], None]) -> None:
        """Another draft is current: into the journal, then into the files."""
        self.revision += 1
        if self._journaled:
            try:
                journal()
            except OSError:
                self._journaled = False  # half a record may be in it: it is written anew
        self._save()

    def _save(self) -> None:
        try:
            if not self._journaled:
                self._journal.begin(self._steps, self._at)
                self._journaled = True
            for path, text in files_of(self.draft).items():
                if self._known.get(path) != text:
                    write_whole(path, text)
                    self._known[path] = text
            self._journal.saved()
        except OSError as error:
            self._journaled = False
            reason = error.strerror or "the disk refuses"
            self.trouble = f"the last change is not saved yet: {reason}; it is tried again"
        else:
            self.trouble = ""

    def _refuse_strangers(self, draft: Draft) -> None:
        """Refuse to write over a file that another hand put where the draft has one."""
        for path in files_of(draft).keys() - files_of(self.draft).keys():
            text = text_on_disk(path)
            if text is not None and not self._was_ours(path, text):
                msg = (
                    f"{path.name} is there already and is not this site's sketch; move it away, "
                    "or name it under [sketch] in the site file"
                )
                raise SketchError(msg)

    def _was_ours(self, path: Path, text: str) -> bool:
        """Whether a file is as it was last read or written, or as one of the steps has it."""
        steps = (files_of(step.draft).get(path) for step in self._steps)
        return alike(text, self._known.get(path)) or any(alike(text, one) for one in steps)


def _own(story: Story) -> bool:
    """Whether all a journal tells of stays where a site's files are."""
    try:
        for step in story.steps:
            files_of(step.draft)
    except SketchError:
        return False
    return True
