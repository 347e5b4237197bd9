package org.earslot.account;

/** The database belongs to the other mode: a demo's to demo mode, a clinic's own to normal mode. */
class WrongMode extends RuntimeException {

    private final String remedy;

    WrongMode(String what, String remedy) {
        super(what);
        this.remedy = remedy;
    }

    String remedy() {
        return remedy;
    }
}
