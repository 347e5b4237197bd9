package org.earslot.review;

import java.time.LocalDate;

/** The figures of one clinic-local day. */
record DayFigures(LocalDate date, Figures figures) {}
