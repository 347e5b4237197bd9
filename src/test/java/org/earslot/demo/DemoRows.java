package org.earslot.demo;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.earslot.ear.Ear;
import org.earslot.ear.EarFindings;
import org.earslot.ear.Word;
import org.jspecify.annotations.Nullable;

/** Writes visits and bookings as lines, with the gaps that real logs have. */
final class DemoRows {

    private final Dice dice;

    DemoRows(Dice dice) {
        this.dice = dice;
    }

    static String csv(List<String> columns, List<List<String>> rows) {
        StringWriter text = new StringWriter();
        CSVFormat format = CSVFormat.RFC4180.builder().setRecordSeparator("\n").get();
        try (CSVPrinter printer = new CSVPrinter(text, format)) {
            printer.printRecord(columns);
            printer.printRecords(rows);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    /** A line of the visit log; now and then a time or a finding was not written down. */
    List<String> visit(String id, RealisedVisit visit) {
        Place place = visit.place();
        InventedReferral referral = place.referral();
        List<String> row = new ArrayList<>(List.of(
                id,
                referral.patient().ref(),
                place.date().toString(),
                place.session().practitioner(),
                place.session().room(),
                visit.attendance().code(),
                referral.method().code(),
                referral.ears().code(),
                dice.chance(0.02) ? "" : yesNo(referral.firstVisit()),
                dice.chance(0.03) ? "" : yesNo(referral.patient().hearingAid()),
                words(referral.patient().cautions()),
                dice.chance(0.08) ? "" : String.valueOf(referral.softenerDays())));
        findings(row, referral.reported());
        row.addAll(happened(visit));
        return row;
    }

    private List<String> happened(RealisedVisit visit) {
        Course course = visit.course();
        Place place = visit.place();
        List<String> row = new ArrayList<>();
        for (Ear ear : Ear.values()) {
            row.add(course == null ? "" : words(course.methods().getOrDefault(ear, List.of())));
        }
        findings(row, course == null ? Map.of() : found(place.referral()));
        row.add(place.start().toString());
        row.add(String.valueOf(place.slotMinutes()));
        row.addAll(times(visit));
        row.add(course == null ? "" : course.stopped().code());
        for (Ear ear : Ear.values()) {
            row.add(course == null ? "" : code(course.outcomes().get(ear)));
        }
        row.add(course == null ? "" : course.note());
        return row;
    }

    private List<String> times(RealisedVisit visit) {
        boolean arrivalLost = dice.chance(0.04);
        boolean untimed = dice.chance(0.015);
        boolean readyLost = dice.chance(0.05);
        Course course = visit.course();
        String arrived = arrivalLost ? "" : time(visit.arrived());
        if (course == null || (untimed && !visit.place().referral().slowCase())) {
            return List.of(arrived, "", "", "");
        }
        int called = visit.calledIn();
        String ready = readyLost ? "" : time(visit.roomReady());
        return List.of(arrived, time(called), time(called + course.minutes()), ready);
    }

    private Map<Ear, EarFindings> found(InventedReferral referral) {
        return referral.truth().entrySet().stream()
                .collect(Collectors.toMap(Map.Entry::getKey, entry -> written(entry.getValue())));
    }

    private EarFindings written(EarFindings truth) {
        return dice.chance(0.06)
                ? new EarFindings(truth.wax(), truth.canal(), null, null)
                : dice.chance(0.01) ? EarFindings.UNKNOWN : truth;
    }

    static List<String> booking(String id, Place place, InventedPerson person, String status, String note) {
        InventedReferral referral = place.referral();
        List<String> row = new ArrayList<>(List.of(
                id,
                referral.patient().ref(),
                person.name().family(),
                person.name().given(),
                person.born().toString(),
                person.contact(),
                place.date().toString(),
                place.start().toString(),
                String.valueOf(place.slotMinutes()),
                place.session().practitioner(),
                place.session().room(),
                referral.method().code(),
                referral.ears().code()));
        findings(row, referral.reported());
        row.addAll(List.of(words(referral.patient().cautions()), status, note));
        return row;
    }

    private static void findings(List<String> row, Map<Ear, EarFindings> ofEars) {
        for (Ear ear : Ear.values()) {
            EarFindings one = ofEars.getOrDefault(ear, EarFindings.UNKNOWN);
            row.add(code(one.wax()));
            row.add(code(one.canal()));
            row.add(code(one.depth()));
            row.add(code(one.occlusion()));
        }
    }

    private static String code(@Nullable Word word) {
        return word == null ? "" : word.code();
    }

    private static String words(Collection<? extends Word> words) {
        return words.stream().map(Word::code).collect(Collectors.joining(";"));
    }

    private static String yesNo(boolean yes) {
        return yes ? "yes" : "no";
    }

    private static String time(@Nullable Integer minute) {
        return minute == null ? "" : LocalTime.ofSecondOfDay(minute * 60L).toString();
    }
}
