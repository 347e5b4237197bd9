package org.earslot.offers;

import org.earslot.ear.Word;

/** Why there is no free slot for a referral in the days looked at. */
public enum NoOffer implements Word {
    /** The softener days last beyond the days looked at. */
    SOFTENER("softener"),
    /** The days looked at are further ahead than the diary is open, or after the day by which it must be. */
    NO_DAYS("no-days"),
    /** Nobody who works here, or not the one asked for, is trained in the method. */
    NOT_TRAINED("not-trained"),
    /** Nobody who is trained in the method and has a session on one of the days sees patients of this age. */
    AGE_NOT_SEEN("age-not-seen"),
    /** Nobody who is trained in the method has a session on one of the days. */
    NO_SESSION("no-session"),
    /** A caution forbids the method on each day with a session. */
    CONTRAINDICATED("contraindicated"),
    /** Each session that has room would end late more often than the clinic accepts. */
    LATE_ENDS("late-ends"),
    /** No session has room for it. */
    FULL("full");

    private final String code;

    NoOffer(String code) {
        this.code = code;
    }

    @Override
    public String code() {
        return code;
    }
}
