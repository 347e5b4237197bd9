package org.earslot.demo;

import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** Names no one bears: coined given names, family names put together from two words, numbers kept for fiction. */
final class InventedNames {

    private static final List<String> GIVEN = List.of(
            "Alvenor",
            "Brisell",
            "Corlane",
            "Deltrin",
            "Elshery",
            "Fandrel",
            "Garrisol",
            "Hestrin",
            "Ivellon",
            "Jassory",
            "Kelvany",
            "Lorrisel",
            "Mardeth",
            "Nevrille",
            "Ostrelle",
            "Pavrin",
            "Quenbry",
            "Rossimel",
            "Selvany",
            "Tandrell",
            "Ulmera",
            "Vestrin",
            "Wyllory",
            "Yandrel",
            "Zennary",
            "Averisol",
            "Bellorin",
            "Candrice",
            "Dorvany",
            "Embrisol",
            "Fellory",
            "Gildreth");

    private static final List<String> FIRST = List.of(
            "Acorn",
            "Bramble",
            "Candle",
            "Dapple",
            "Ember",
            "Feather",
            "Gossamer",
            "Hazel",
            "Ivory",
            "Juniper",
            "Kettle",
            "Lantern",
            "Marrow",
            "Nettle",
            "Otter",
            "Pebble",
            "Quill",
            "Russet",
            "Saffron",
            "Thimble",
            "Umber",
            "Velvet",
            "Wattle",
            "Yarrow");

    private static final List<String> SECOND = List.of(
            "button", "cloud", "drum", "finch", "glass", "hythe", "lark", "mantle", "pocket", "reed", "sedge", "stile",
            "tumble", "whistle");

    private final Dice dice;
    private final Set<String> given = new HashSet<>();
    private final Set<String> numbers = new HashSet<>();

    InventedNames(Dice dice) {
        this.dice = dice;
    }

    record Name(String given, String family) {}

    /** A name not given out before. */
    Name next() {
        while (true) {
            Name name = new Name(dice.one(GIVEN), dice.one(FIRST) + dice.one(SECOND));
            if (given.add(name.given() + ' ' + name.family())) {
                return name;
            }
        }
    }

    /**
     * A telephone number not given out before, from the ranges Ofcom keeps for drama (07700 900000 to 900999 and
     * 01632 960000 to 960999), or an address under example.org, which RFC 2606 reserves.
     */
    String contact(Name name) {
        if (dice.chance(0.1)) {
            return name.given().toLowerCase() + '.' + name.family().toLowerCase() + "@example.org";
        }
        String range = dice.chance(0.7) ? "07700 900" : "01632 960";
        while (true) {
            String number = range + String.format("%03d", dice.between(0, 999));
            if (numbers.add(number)) {
                return number;
            }
        }
    }
}
