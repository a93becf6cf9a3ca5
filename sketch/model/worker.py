"""What is worked out of the open drawing on a thread of its own, and looked for until it is there."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QObject, QTimer, Signal

from sketch.model.document import Document

POLL_MS = 15  # between two looks at whether the thread is done

Question = TypeVar("Question")


class Job(Generic[Question]):
    """One question on its way. It holds plain values: a thread must never be the last to hold a widget."""

    def __init__(
        self,
        question: Question,
        work: Callable[[Question], Any],
        why: Callable[[Exception, Question], str],
    ) -> None:
        """`why`: the words for what kept `work` from an answer."""
        self.question = question
        self.answer: Any = None
        self.trouble = ""
        self.done = threading.Event()
        threading.Thread(target=self._run, args=(work, why), daemon=True).start()

    def _run(self, work: Callable[[Question], Any], why: Callable[[Exception, Question], str]) -> None:
        try:
            self.answer = work(self.question)
        except Exception as error:
            self.trouble = why(error, self.question)
        finally:
            self.done.set()


class Worker(QObject, Generic[Question]):
    """Answers the question that belongs to the drawing as it is shown, and no other.

    One that extends it says what its question is, how it is worked out, and how long the drawing must rest.
    """

    changed = Signal()  # the answer is here
    IDLE_MS = 180  # of no change before anything is worked out

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self.answered: Job[Question] | None = None  # the last that was, whatever drawing it belongs to
        self._running: Job[Question] | None = None
        self._wanted = False
        self._idle = QTimer(self, singleShot=True)
        self._idle.timeout.connect(self._start)
        self._poll = QTimer(self, interval=POLL_MS)
        self._poll.timeout.connect(self._look)

    def question(self) -> Question | None:
        """What an answer would belong to now; None where there is nothing to ask."""
        raise NotImplementedError

    @staticmethod
    def work(question: Any) -> Any:
        """The answer; run on a thread, so that it may hold no widget."""
        raise NotImplementedError

    @staticmethod
    def why(error: Exception, question: Any) -> str:
        """What kept it from an answer, in words."""
        return f"the program failed: {type(error).__name__} ({error})"

    @property
    def at_hand(self) -> bool:
        """Whether the last answer belongs to the drawing as it is shown."""
        return self.answered is not None and self.answered.question == self.question()

    @property
    def answer(self) -> Any:
        """None while that of this drawing is not at hand."""
        return self.answered.answer if self.answered is not None and self.at_hand else None

    @property
    def trouble(self) -> str:
        """Why there is no answer; "" while that is not known."""
        return self.answered.trouble if self.answered is not None and self.at_hand else ""

    @property
    def busy(self) -> bool:
        """Whether an answer is asked for that is not at hand yet."""
        return self._wanted or self._running is not None

    def ask(self, *, at_once: bool = False) -> None:
        """Have it worked out unless it is at hand: once the drawing has come to rest, or without waiting."""
        if not self.at_hand:
            self._wanted = True
            self._idle.start(0 if at_once else self.IDLE_MS)

    def _start(self) -> None:
        if not self._wanted or self._running is not None:
            return  # what runs is looked at again when it is done
        self._wanted = False
        question = self.question()
        if question is not None and not self.at_hand:
            self._running = Job(question, self.work, self.why)
            self._poll.start()

    def _look(self) -> None:
        job = self._running
        if job is None or not job.done.is_set():
            return
        self._poll.stop()
        self._running = None
        self.answered = job
        if not self.at_hand:
            self._wanted = True
            self._idle.start(self.IDLE_MS)
        if self.useful(job):
            self.changed.emit()

    def useful(self, job: Job[Question]) -> bool:
        """Whether an answer says something of the drawing as it is shown."""
        return job.question == self.question()
