package org.earslot.demo;

import java.time.LocalDate;
import org.earslot.demo.InventedNames.Name;

/** What the diary holds of a patient beside the reference. */
record InventedPerson(Name name, LocalDate born, String contact) {

    static InventedPerson drawn(InventedNames names, LocalDate anchor, Dice dice) {
        Name name = names.next();
        int age = dice.chance(0.03)
                ? dice.between(5, 15)
                : dice.chance(0.7) ? dice.between(58, 91) : dice.between(24, 57);
        LocalDate born = anchor.minusYears(age).minusDays(dice.between(0, 364));
        return new InventedPerson(name, born, names.contact(name));
    }
}
