package org.earslot.exchange.imports;

import org.earslot.clinic.Practitioners;
import org.earslot.clinic.Rooms;
import org.springframework.stereotype.Component;

/** Where runs look up the names that are set up. */
@Component("namesSetUp")
public class SetUpImport {

    private final Practitioners practitioners;
    private final Rooms rooms;

    SetUpImport(Practitioners practitioners, Rooms rooms) {
        this.practitioners = practitioners;
        this.rooms = rooms;
    }

    /** The names of the run's clinic. */
    public SetUpNames names(ImportTerms terms, ImportResult taken) {
        return new SetUpNames(terms, taken, practitioners, rooms);
    }
}
