"""What may stick or lie in a part of its kind, in words: one that has no valve is never half shut."""

from __future__ import annotations

from solver.layout.kinds import CHECK_KINDS, VALVE_KINDS, FittingKind
from solver.layout.parts import Fitting

CHECK = "check valve stuck half open, or a rag"
FILTER = "filter clogged, or a rag"
CONNECTOR = "connector kinked, or a rag"
RAG = "a rag or the like in it"


def lodged(fitting: Fitting) -> str:
    """What may stick or lie in a part; "" for a valve, which may as well be half shut."""
    if fitting.kind in VALVE_KINDS:
        return ""
    if fitting.kind in CHECK_KINDS:
        return CHECK
    if fitting.kind is FittingKind.FILTER and fitting.screen is None:
        return FILTER
    return CONNECTOR if fitting.kind is FittingKind.FLEXIBLE_CONNECTOR else RAG
