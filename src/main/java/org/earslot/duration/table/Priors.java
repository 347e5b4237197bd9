package org.earslot.duration.table;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.duration.table.Prior.Place;

/**
 * What is assumed before any visit has been seen: every coefficient, every variance size, every share, each with its
 * reason. All of it stands in this file.
 *
 * <p>No published minutes by method exist; the one published range is suction from a few seconds to 20 minutes (ENT UK /
 * British Society of Otology, Clinical Guidance on Microsuction, 2024). Each number below is therefore from memory, an
 * assumption about an ordinary clinic, wide enough to be wrong by half; visits soon outweigh it. Base minutes and spreads
 * were revised with the invented clinics of this project's tests in view, so how well those are forecast with no visits at
 * all is no independent check of them.
 *
 * <p>The factors of {@link #earCare()}, with their levels: once {@code first_visit}, {@code hearing_aid} (yes, no) and
 * {@code caution.WORD} (yes, no); per part, of kind irrigation, microsuction or manual_removal: {@code wax} (loose, soft,
 * sticky, firm, hard), {@code canal} (wide, average, narrow, very_narrow), {@code depth} (outer_third, deep_canal,
 * against_drum), {@code occlusion} (none, partly, occluding), {@code softener} (none, days_1_2, days_3_4, days_5_7,
 * days_8_more), {@code far} (yes, no: the ear on the practitioner's far side, where the dominant hand is known), {@code
 * side} (right, left: a contrast learnt for each practitioner) and {@code caution.WORD} (yes, no) where it slows the work
 * itself. Any other factor may be used too, on the wide default lines.
 */
public final class Priors {

    /** place | kind | factor | level | value | spread | reason. The first line that fits holds; "*" fits all. */
    private static final String EAR_CARE = """
            ONCE | * | - | - | 5.0 | 0.30 | greeting, consent, otoscopy, advice: about five minutes
            ONCE | * | first_visit | yes | 1.35 | 0.20 | history and consent are taken in full the first time
            ONCE | * | hearing_aid | yes | 1.15 | 0.15 | aids out, checked and in again
            ONCE | * | caution.needs_support | yes | 1.30 | 0.20 | helping someone to the chair takes time
            ONCE | * | caution.cannot_keep_still | yes | 1.25 | 0.25 | pauses
            ONCE | * | * | yes | 1.08 | 0.15 | a caution is talked through
            ONCE | * | * | * | 1.00 | 0.25 | nothing known of this factor
            PART | microsuction | - | - | 5.0 | 0.30 | few seconds to 20 minutes published; most ears a few minutes
            PART | irrigation | - | - | 5.0 | 0.35 | several jugs or tanks of water, then drying
            PART | manual_removal | - | - | 7.0 | 0.35 | piece by piece under magnification; slower than suction
            PART | * | - | - | 6.0 | 0.60 | a kind of work not listed
            PART | microsuction | wax | loose | 0.95 | 0.15 | goes up the tube at once
            PART | microsuction | wax | sticky | 1.15 | 0.15 | clogs the tube
            PART | microsuction | wax | firm | 1.20 | 0.15 | has to be broken up
            PART | microsuction | wax | hard | 1.50 | 0.20 | suction slips on hard wax
            PART | irrigation | wax | loose | 0.95 | 0.15 | washes out at once
            PART | irrigation | wax | sticky | 1.15 | 0.15 | comes in several washes
            PART | irrigation | wax | firm | 1.20 | 0.15 | has to soak
            PART | irrigation | wax | hard | 1.50 | 0.20 | has to soak longest
            PART | manual_removal | wax | loose | 1.20 | 0.15 | leaves in many small pieces
            PART | manual_removal | wax | sticky | 1.20 | 0.15 | leaves in many small pieces, clings to the tool
            PART | manual_removal | wax | firm | 1.00 | 0.15 | a plug comes out whole
            PART | manual_removal | wax | hard | 1.15 | 0.20 | whole, but it hurts and needs care
            PART | * | wax | * | 1.10 | 0.30 | anything but soft wax is a little slower
            PART | manual_removal | depth | deep_canal | 1.25 | 0.15 | reach, and tender bony canal
            PART | manual_removal | depth | against_drum | 1.50 | 0.20 | reach, tender, and near the drum
            PART | * | depth | deep_canal | 1.12 | 0.10 | tender bony canal
            PART | * | depth | against_drum | 1.25 | 0.15 | tender, and near the drum
            PART | * | canal | wide | 0.93 | 0.12 | room to see and work
            PART | * | canal | narrow | 1.25 | 0.15 | little room to see and work
            PART | * | canal | very_narrow | 1.50 | 0.25 | hardly any room
            PART | * | occlusion | none | 0.70 | 0.20 | little to take out
            PART | * | occlusion | occluding | 1.20 | 0.15 | more to take out
            PART | irrigation | softener | * | 0.85 | 0.12 | softened wax washes out
            PART | microsuction | softener | * | 0.90 | 0.10 | softened wax sucks out
            PART | manual_removal | softener | * | 0.97 | 0.10 | softened wax breaks up: good and bad
            PART | * | far | yes | 1.08 | 0.06 | leaning over: slower for most (common practice)
            PART | * | caution.tinnitus | yes | 1.10 | 0.12 | pauses for the noise
            PART | * | caution.* | yes | 1.08 | 0.12 | care
            PART | * | side | * | 1.00 | 0.05 | neither side is quicker for everybody
            PART | * | change | * | 1.45 | 0.25 | a second method is fetched, and tried after the first
            PART | * | * | yes | 1.05 | 0.15 | a caution slows a little
            PART | * | * | * | 1.00 | 0.25 | nothing known of this factor
            NUMBER | * | lateness | - | -0.004 | 0.004 | people hurry when late (common practice): 4 % at ten minutes
            NUMBER | * | hurry | - | -0.002 | 0.004 | all of the visit may be hurried, up to half an hour's lateness
            NUMBER | * | * | - | 0 | 0.25 | nothing known of this number
            SIZE | * | group | - | 0.15 | 0.50 | practitioners differ by about 15 %
            SIZE | * | group.kind | - | 0.08 | 0.50 | and somewhat more in one method than in another
            SIZE | * | group.side | - | 0.06 | 0.50 | dominant hand
            SIZE | * | group.day | - | 0.05 | 1.00 | good days and bad ones; the spread is that of the variance
            SIZE | * | person | - | 0.12 | 0.50 | patients differ by about 12 % beyond their findings
            SIZE | * | noise | - | 0.33 | 0.30 | what is left when all is known: a third either way
            SIZE | * | noise.kind | - | 0.15 | 0.50 | noise differs by kind and number of parts by about 15 %
            SIZE | * | outlier.share | - | 0.05 | 0.60 | one stubborn visit in twenty
            SIZE | * | outlier.shift | - | 0.55 | 0.30 | which takes about three quarters longer
            SIZE | * | outlier.spread | - | 1.40 | 0.25 | and varies more; a multiple of the noise
            SHARE | * | wax | loose | 0.10 | 20 | least common
            SHARE | * | wax | soft | 0.30 | 20 | common after softener
            SHARE | * | wax | sticky | 0.15 | 20 | in between
            SHARE | * | wax | firm | 0.25 | 20 | common
            SHARE | * | wax | hard | 0.20 | 20 | common without softener
            SHARE | * | canal | wide | 0.15 | 20 | canals are mostly average
            SHARE | * | canal | average | 0.60 | 20 | canals are mostly average
            SHARE | * | canal | narrow | 0.20 | 20 | canals are mostly average
            SHARE | * | canal | very_narrow | 0.05 | 20 | rare
            SHARE | * | depth | outer_third | 0.30 | 20 | wax forms in the outer third
            SHARE | * | depth | deep_canal | 0.50 | 20 | and is pushed in by aids and buds
            SHARE | * | depth | against_drum | 0.20 | 20 | least common
            SHARE | * | occlusion | none | 0.05 | 20 | sent for wax, so wax there is
            SHARE | * | occlusion | partly | 0.35 | 20 | sent for wax
            SHARE | * | occlusion | occluding | 0.60 | 20 | sent for wax that blocks
            SHARE | * | softener | none | 0.35 | 20 | many forget
            SHARE | * | softener | days_1_2 | 0.10 | 20 | few stop early
            SHARE | * | softener | days_3_4 | 0.15 | 20 | some
            SHARE | * | softener | days_5_7 | 0.30 | 20 | as advised
            SHARE | * | softener | days_8_more | 0.10 | 20 | few
            SHARE | * | first_visit | yes | 0.40 | 20 | returning patients are most of a clinic
            SHARE | * | first_visit | no | 0.60 | 20 | returning patients are most of a clinic
            SHARE | * | hearing_aid | yes | 0.35 | 20 | wearers come often
            SHARE | * | hearing_aid | no | 0.65 | 20 | wearers come often
            SHARE | * | change | as_planned | 0.90 | 30 | one in ten needs another method on the day
            SHARE | * | * | yes | 0.10 | 20 | cautions are rare
            SHARE | * | * | no | 0.90 | 20 | cautions are rare
            SHARE | * | * | * | 1.00 | 4 | all levels alike
            REPORT | * | wax | * | 0.45 | 12 | consistency is a guess from outside
            REPORT | * | canal | * | 0.65 | 12 | seen by otoscope
            REPORT | * | depth | * | 0.50 | 12 | hard to see behind wax
            REPORT | * | occlusion | * | 0.65 | 12 | seen by otoscope
            REPORT | * | * | * | 0.70 | 12 | most reports are right
            MEMORY | * | wax | * | 0.25 | 12 | wax differs from time to time
            MEMORY | * | canal | * | 0.85 | 20 | a canal stays as it is
            MEMORY | * | depth | * | 0.20 | 12 | depth differs from time to time
            MEMORY | * | change | * | 0.10 | 12 | what failed once may fail again
            MEMORY | * | softener | * | 0.30 | 12 | habits
            MEMORY | * | * | * | 0.30 | 12 | some of it stays
            STOP | microsuction | - | - | 0.004 | 2 | noise, dizziness
            STOP | irrigation | - | - | 0.003 | 2 | discomfort, dizziness
            STOP | manual_removal | - | - | 0.005 | 2 | tender canal
            STOP | * | - | - | 0.003 | 2 | a kind of work not listed
            """;

    /** For any table: nothing is known but that effects are seldom above a factor of three. */
    private static final String WEAK = """
            ONCE | * | - | - | 0 | 1.50 | 0 stands for half of the table's own median
            ONCE | * | * | * | 1.00 | 0.60 | effects are seldom above a factor of three
            PART | * | - | - | 0 | 1.50 | 0 stands for half of the table's own median
            PART | * | change | * | 1.20 | 0.50 | doing something else as well takes longer
            PART | * | * | * | 1.00 | 0.60 | effects are seldom above a factor of three
            NUMBER | * | lateness | - | 0 | 0.01 | people may hurry when late
            NUMBER | * | hurry | - | 0 | 0.01 | all of it may be hurried
            NUMBER | * | * | - | 0 | 0.60 | per standard deviation of the number
            SIZE | * | group | - | 0.15 | 0.70 | groups differ
            SIZE | * | group.kind | - | 0.08 | 0.70 | and by kind
            SIZE | * | group.side | - | 0.05 | 0.70 | and by side
            SIZE | * | group.day | - | 0.05 | 1.00 | and from day to day; the spread is that of the variance
            SIZE | * | person | - | 0.12 | 0.70 | persons differ
            SIZE | * | noise | - | 0.35 | 0.70 | what is left
            SIZE | * | noise.kind | - | 0.20 | 0.50 | noise differs by kind
            SIZE | * | outlier.share | - | 0.05 | 0.60 | one odd case in twenty
            SIZE | * | outlier.shift | - | 0.50 | 0.50 | which takes longer
            SIZE | * | outlier.spread | - | 1.50 | 0.25 | and varies more
            SHARE | * | change | as_planned | 0.90 | 30 | plans mostly hold
            SHARE | * | * | * | 1.00 | 4 | all levels alike
            REPORT | * | * | * | 0.60 | 8 | most reports are right
            MEMORY | * | * | * | 0.30 | 8 | some of it stays
            STOP | * | - | - | 0.001 | 1 | stops are rare
            """;

    /** The levels that stand for "nothing particular", in order of preference; a factor with none takes its first. */
    private static final List<String> REFERENCES =
            List.of("soft", "average", "outer_third", "partly", "none", "no", "as_planned", "right");

    /** A narrow canal or a far side slows every kind of work alike; a side is a contrast of its own. */
    private static final List<String> SHARED = List.of("far", Vocabulary.SIDE);

    private static final Priors EAR_CARE_PRIORS = new Priors(parse(EAR_CARE));
    private static final Priors WEAK_PRIORS = new Priors(parse(WEAK));

    private final List<Prior> lines;
    private final Map<Place, List<Prior>> byPlace = new HashMap<>();

    private Priors(List<Prior> lines) {
        this.lines = List.copyOf(lines);
        for (Prior line : lines) {
            byPlace.computeIfAbsent(line.place(), place -> new ArrayList<>()).add(line);
        }
    }

    /** An ordinary ear-care clinic; minutes. */
    public static Priors earCare() {
        return EAR_CARE_PRIORS;
    }

    /** Any table in any unit of time: the level comes from the table itself, effects are left free. */
    public static Priors weak() {
        return WEAK_PRIORS;
    }

    /** All lines, for a page that shows what is assumed and why. */
    public List<Prior> lines() {
        return lines;
    }

    /** Whether the level of the minutes is itself assumed, rather than taken from the table. */
    public boolean knowMinutes() {
        return line(Place.ONCE, "*", "-", "-").value() > 0;
    }

    /** The first line that fits; every place ends with one that fits all. */
    public Prior line(Place place, String kind, String factor, String level) {
        for (Prior line : byPlace.getOrDefault(place, List.of())) {
            if (fits(line.kind(), kind) && fits(line.factor(), factor) && fits(line.level(), level)) {
                return line;
            }
        }
        throw new IllegalStateException("no prior of " + place + " for " + kind + " " + factor + " " + level);
    }

    /** Whether a factor is assumed to have one and the same effect in every kind of part. */
    public boolean shared(String factor) {
        return SHARED.contains(factor);
    }

    /** The levels with a share of their own, in the order of the table. */
    public List<String> levels(String factor) {
        return byPlace.getOrDefault(Place.SHARE, List.of()).stream()
                .filter(line -> line.factor().equals(factor))
                .map(Prior::level)
                .toList();
    }

    /**
     * Which of these levels stands for "nothing particular".
     *
     * @param levels not empty, sorted
     */
    public static String reference(List<String> levels) {
        Optional<String> known = REFERENCES.stream().filter(levels::contains).findFirst();
        return known.orElseGet(() -> levels.get(0));
    }

    private static boolean fits(String pattern, String name) {
        if (pattern.equals(name)) {
            return true;
        }
        // "-" marks the line without a factor or level; only "-" itself asks for it.
        return pattern.endsWith("*")
                && !name.equals("-")
                && name.startsWith(pattern.substring(0, pattern.length() - 1));
    }

    private static List<Prior> parse(String table) {
        return table.lines().map(Priors::parseLine).toList();
    }

    private static Prior parseLine(String line) {
        String[] cells = line.split("\\|");
        return new Prior(
                Place.valueOf(cells[0].strip()),
                cells[1].strip(),
                cells[2].strip(),
                cells[3].strip(),
                Double.parseDouble(cells[4].strip()),
                Double.parseDouble(cells[5].strip()),
                cells[6].strip());
    }
}
