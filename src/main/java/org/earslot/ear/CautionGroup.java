package org.earslot.ear;

import java.util.Arrays;
import java.util.List;

/** The headings under which cautions are asked, so that a caller can be led through them. */
public enum CautionGroup implements Word {
    DRUM("drum"),
    EAR("ear"),
    HEARING("hearing"),
    HEALTH("health");

    private final String code;

    CautionGroup(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }

    /** Whether its cautions are of one ear or both, and not of the whole person. */
    public boolean ofEars() {
        return this != HEALTH;
    }

    /** Its cautions, in the order in which they are asked. */
    public List<Caution> cautions() {
        return Arrays.stream(Caution.values())
                .filter(caution -> caution.group() == this)
                .toList();
    }
}
