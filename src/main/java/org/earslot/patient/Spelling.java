package org.earslot.patient;

import java.text.Normalizer;
import java.util.Locale;

/** How far two spellings are apart. */
final class Spelling {

    private Spelling() {}

    /** Letters only, without accents, in lower case: "Ó Súil-leabháin" is "osuilleabhain". */
    static String plain(String name) {
        return Normalizer.normalize(name, Normalizer.Form.NFD)
                .toLowerCase(Locale.ROOT)
                .replace("ß", "ss")
                .replace("ø", "o")
                .replace("æ", "ae")
                .replace("ł", "l")
                .replaceAll("[^\\p{L}]", "");
    }

    /**
     * The least number of letters put in, left out, changed, or of neighbours exchanged that leads from one word to the
     * other, no letter being touched twice ("optimal string alignment"); from 0 for equal words to the longer's length.
     */
    static int distance(String one, String other) {
        int[][] d = new int[one.length() + 1][other.length() + 1];
        for (int i = 0; i <= one.length(); i++) {
            d[i][0] = i;
        }
        for (int j = 0; j <= other.length(); j++) {
            d[0][j] = j;
        }
        for (int i = 1; i <= one.length(); i++) {
            for (int j = 1; j <= other.length(); j++) {
                int change = one.charAt(i - 1) == other.charAt(j - 1) ? 0 : 1;
                d[i][j] = Math.min(Math.min(d[i - 1][j] + 1, d[i][j - 1] + 1), d[i - 1][j - 1] + change);
                boolean exchanged = i > 1
                        && j > 1
                        && one.charAt(i - 1) == other.charAt(j - 2)
                        && one.charAt(i - 2) == other.charAt(j - 1);
                if (exchanged) {
                    d[i][j] = Math.min(d[i][j], d[i - 2][j - 2] + 1);
                }
            }
        }
        return d[one.length()][other.length()];
    }

    /** Whether two names may be one misspelt: one slip in up to five letters, two in more; an empty name is like none. */
    static boolean alike(String one, String other) {
        String a = plain(one);
        String b = plain(other);
        if (a.isEmpty() || b.isEmpty()) {
            return false;
        }
        int slips = Math.min(a.length(), b.length()) <= 5 ? 1 : 2;
        return Math.abs(a.length() - b.length()) <= slips && distance(a, b) <= slips;
    }
}
