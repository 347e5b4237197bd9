package org.earslot.daysheet;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Comparator;
import java.util.List;
import java.util.UUID;
import org.earslot.caution.Verdict;
import org.earslot.clinic.ClinicSession;
import org.earslot.day.DaySchedule.Who;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Caution;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Ears;
import org.earslot.ear.Method;
import org.earslot.ear.Outcome;
import org.earslot.ear.UnknownCode;
import org.earslot.estimate.SlotSummary;
import org.earslot.estimate.WhyLine;
import org.earslot.offers.DayFix;
import org.jspecify.annotations.Nullable;

/** The morning's sheets of a day, one for each practitioner who sees anyone. */
public record DaySheet(LocalDate date, List<Sheet> sheets) {

    public DaySheet {
        sheets = List.copyOf(sheets);
    }

    /** One practitioner's page. */
    public record Sheet(
            UUID practitionerId,
            String practitioner,
            List<SessionLine> sessions,
            List<Warning> warnings,
            List<SheetLine> lines) {

        public Sheet {
            warnings = warnings.stream()
                    .sorted(Comparator.comparing(Warning::rank))
                    .toList();
        }
    }

    /**
     * A session in the head of a sheet.
     *
     * @param pastEnd chance that the session ends late, 0 to 1
     * @param over whether nobody of those booked in it is left to be seen
     */
    public record SessionLine(ClinicSession held, String room, double pastEnd, double overtimeMinutes, boolean over) {}

    /** How much a warning matters. */
    public enum Rank {
        /** The session as a whole, or a visit that must not begin like this. */
        ACT,
        /** One visit, to be looked at before it begins. */
        LOOK_FIRST,
        /** Good to know. */
        TIP
    }

    /** Something to settle before the list begins. */
    public sealed interface Warning {

        /** About a session, by its key. */
        sealed interface AboutSession extends Warning {

            String session();

            @Override
            default List<Fix> fixes() {
                return Fix.ofSession(session());
            }

            @Override
            default Rank rank() {
                return Rank.ACT;
            }
        }

        /** About one visit, which can be moved. */
        sealed interface AboutVisit extends Warning {

            UUID appointment();

            @Override
            default List<Fix> fixes() {
                return List.of(Fix.ofVisit(appointment()));
            }
        }

        /** The session is more likely to end late than the policy accepts. */
        record EndsLate(LocalTime end, double pastEnd, double accepted, String session) implements AboutSession {
            @Override
            public String code() {
                return "EndsLate";
            }
        }

        /**
         * Patients of a session are expected to wait longer than the clinic's limit.
         *
         * @param count how many
         * @param most the longest expected wait, minutes
         * @param start booked start of that patient
         * @param alone whether no other warning offers the fixes of that session
         */
        record LongWaits(int count, double most, LocalTime start, int limit, String session, boolean alone)
                implements AboutSession {
            @Override
            public String code() {
                return "LongWaits";
            }

            @Override
            public List<Fix> fixes() {
                return alone ? AboutSession.super.fixes() : List.of();
            }
        }

        /** The planned method is contraindicated on this date. */
        record Contraindicated(LocalTime start, String name, Method method, List<Caution> cautions, UUID appointment)
                implements AboutVisit {
            @Override
            public String code() {
                return "Contraindicated";
            }

            @Override
            public Rank rank() {
                return Rank.ACT;
            }
        }

        /** Whoever holds the session does not hold the planned method. */
        record MethodNotHeld(LocalTime start, String name, Method method, String who, UUID appointment)
                implements AboutVisit {
            @Override
            public String code() {
                return "MethodNotHeld";
            }
        }

        /** Whoever will hold the visit does not see patients of this age. */
        record AgeNotSeen(LocalTime start, String name, String who, UUID appointment) implements AboutVisit {
            @Override
            public String code() {
                return "AgeNotSeen";
            }
        }

        /** The session is covered, and the visit still booked with whoever is away. */
        record NotHandedOver(LocalTime start, String name, String cover, UUID appointment) implements AboutVisit {
            @Override
            public String code() {
                return "NotHandedOver";
            }
        }

        /** The method suits worse than when the visit was booked. */
        record CautionWorse(
                LocalTime start,
                String name,
                Method method,
                Verdict was,
                Verdict now,
                List<Caution> cautions,
                UUID appointment)
                implements AboutVisit {
            @Override
            public String code() {
                return "CautionWorse";
            }
        }

        /**
         * Some visits of the day begin without a clean set.
         *
         * @param cleanAgain null if none comes clean in time
         */
        record SetsShort(
                String kind,
                int without,
                LocalTime first,
                @Nullable LocalTime cleanAgain) implements Warning {
            @Override
            public String code() {
                return "SetsShort";
            }
        }

        /** A movable unit is in another room when this visit wants it. */
        record UnitElsewhere(LocalTime start, String name, String unit, LocalTime freeFrom, UUID appointment)
                implements AboutVisit {
            @Override
            public String code() {
                return "UnitElsewhere";
            }
        }

        /** Every unit that the planned method cannot do without is out of use. */
        record UnitOutOfUse(LocalTime start, String name, Method method, UUID appointment) implements AboutVisit {
            @Override
            public String code() {
                return "UnitOutOfUse";
            }
        }

        /** It is a child, and it is not known who consents. */
        record ConsentNotKnown(
                LocalTime start, String name, @Nullable UUID referral) implements Warning {
            @Override
            public String code() {
                return "ConsentNotKnown";
            }
        }

        /** Single-use stock is below the least. */
        record StockLow(List<Stock> items) implements Warning {
            @Override
            public String code() {
                return "StockLow";
            }

            @Override
            public Rank rank() {
                return Rank.TIP;
            }
        }

        /** Single-use stock has not been counted this morning. */
        record StockNotCounted(List<String> items) implements Warning {
            @Override
            public String code() {
                return "StockNotCounted";
            }

            @Override
            public Rank rank() {
                return Rank.TIP;
            }
        }

        /** Nobody asked about cautions. */
        record CautionsNotAsked(LocalTime start, String name, UUID referral) implements Warning {
            @Override
            public String code() {
                return "CautionsNotAsked";
            }
        }

        /** Some cautions were asked and could not be answered. */
        record CautionsNotKnown(LocalTime start, String name, List<Caution> cautions, UUID referral)
                implements Warning {
            @Override
            public String code() {
                return "CautionsNotKnown";
            }
        }

        /** A caution is stored in a code that is not known here: to be clarified with the patient. */
        record CautionsUnknown(
                LocalTime start,
                String name,
                List<UnknownCode> codes,
                @Nullable UUID referral) implements Warning {
            @Override
            public String code() {
                return "CautionsUnknown";
            }
        }

        /** An earlier yes that is not among today's answers: a question for the practitioner. */
        record CautionsContradicted(LocalTime start, String name, List<Caution> cautions, UUID referral)
                implements Warning {
            @Override
            public String code() {
                return "CautionsContradicted";
            }
        }

        /** A clinician has not yet said what follows from a red flag of the patient. */
        record RedFlagOpen(
                LocalTime start, String name, @Nullable UUID referral) implements Warning {
            @Override
            public String code() {
                return "RedFlagOpen";
            }

            @Override
            public Rank rank() {
                return Rank.ACT;
            }
        }

        /** Visits before which red flags are still to be asked: one warning for the whole list. */
        record RedFlagsNotAsked(List<Unasked> visits) implements Warning {
            @Override
            public String code() {
                return "RedFlagsNotAsked";
            }
        }

        /**
         * It is not known whether softener was used.
         *
         * @param phone where to call; null if not known
         */
        record SoftenerNotConfirmed(
                LocalTime start, String name, @Nullable String phone, UUID appointment) implements AboutVisit {
            @Override
            public String code() {
                return "SoftenerNotConfirmed";
            }
        }

        /** The appointment lies outside any session. */
        record OutsideSession(LocalTime start, String name, UUID appointment) implements AboutVisit {
            @Override
            public String code() {
                return "OutsideSession";
            }
        }

        /** Names its text and, on the page, what can be done. */
        String code();

        /** How much it matters: by default one visit has to be looked at first. */
        default Rank rank() {
            return Rank.LOOK_FIRST;
        }

        /** What can be tried against it; the effect is shown before anything is changed. */
        default List<Fix> fixes() {
            return List.of();
        }
    }

    /**
     * A way to improve the day.
     *
     * @param session the session to improve, by its key; null if one visit is meant
     * @param appointment the visit to move; null if a session is meant
     */
    public record Fix(
            DayFix kind, @Nullable String session, @Nullable UUID appointment) {

        static List<Fix> ofSession(String session) {
            return List.of(
                    new Fix(DayFix.RETIME, session, null),
                    new Fix(DayFix.SWAP, session, null),
                    new Fix(DayFix.MOVE, session, null));
        }

        static Fix ofVisit(UUID appointment) {
            return new Fix(DayFix.MOVE, null, appointment);
        }
    }

    /**
     * One visit to come.
     *
     * @param starts the projected start; half of the time by then. Null where none is projected, as its range is
     * @param startsEarliest 1 in 10 by then
     * @param startsLatest 9 in 10 by then
     * @param summary what every page says of its length; null for another kind of visit, and for a fit-in, which has no slot
     * @param why the lines that make the visit long, the largest first
     * @param runsOn what to do if the visit runs on
     * @param runsOnAt when: the slot's length after the projected start, and not before the booked slot ends
     */
    public record SheetLine(
            UUID appointmentId,
            LocalTime start,
            @Nullable LocalTime starts,
            @Nullable LocalTime startsEarliest,
            @Nullable LocalTime startsLatest,
            int slotMinutes,
            @Nullable SlotSummary summary,
            boolean fitIn,
            Who who,
            @Nullable Method method,
            @Nullable Ears ears,
            @Nullable String otherKind,
            List<WhyLine> why,
            Briefing brief,
            RunsOn runsOn,
            LocalTime runsOnAt) {}

    /** A visit of which not every red flag was asked. */
    public record Unasked(
            LocalTime start, String name, @Nullable UUID referral) {}

    /** An item of stock, its last count and the least there should be. */
    public record Stock(String name, int counted, int least) {}

    /** What to do if a visit runs on. */
    public enum RunsOn {
        /** Nobody comes after it. */
        LAST,
        /** Two ears: the second can come another day. */
        SECOND_EAR,
        /** One ear by irrigation: water may stay in while the chair goes on (NICE NG98). */
        WATER,
        /** One ear. */
        ONE_EAR,
        /** Not a removal of wax. */
        OTHER
    }

    /**
     * What was done to an ear the last time.
     *
     * @param minutes in the room, for all of that visit; null if not known
     */
    public record LastTime(
            Ear ear,
            LocalDate date,
            List<Method> methods,
            @Nullable Long minutes,
            EarFindings found,
            @Nullable Outcome outcome,
            List<AdverseEvent> adverseEvents) {}
}
