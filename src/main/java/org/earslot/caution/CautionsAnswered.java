package org.earslot.caution;

import java.util.List;
import java.util.Set;
import org.earslot.ear.Caution;
import org.earslot.ear.Ears;
import org.jspecify.annotations.Nullable;

/** What was answered about cautions for a visit that is asked for, and what else bears on the choice of a method. */
public interface CautionsAnswered {

    /** The ears to be treated. */
    Ears ears();

    /** Whether the list of cautions was read out; an empty list then means "none of these". */
    boolean cautionsAsked();

    /** Those answered with yes. */
    List<AskedCaution> cautions();

    /** Those that were asked and could not be answered. */
    Set<Caution> cautionsNotKnown();

    /** What the visit must come before, in free text. */
    @Nullable
    String mustFollow();

    /** What is stored of cautions and red flags in codes that this release does not know. */
    UnknownCodes unknown();
}
