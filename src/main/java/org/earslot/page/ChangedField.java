package org.earslot.page;

/**
 * A field of a form in which what was typed and what somebody else has saved meanwhile are not the same.
 *
 * @param label its name on the page
 * @param now what is stored, in words; empty for nothing
 * @param takenOver whether the form shows it now, because nothing was typed there
 */
public record ChangedField(String label, String now, boolean takenOver) {}
