package org.earslot.demo;

import java.util.ArrayList;
import java.util.List;
import org.earslot.ear.Ear;

/** The columns of the two files, in the order written. */
final class DemoColumns {

    private static final List<String> FINDINGS = List.of("wax", "canal", "depth", "occlusion");

    private DemoColumns() {}

    static List<String> visitLog() {
        List<String> columns = new ArrayList<>(List.of(
                "visit_id",
                "patient_ref",
                "date",
                "practitioner",
                "room",
                "attendance",
                "method_planned",
                "ears",
                "first_visit",
                "hearing_aid",
                "cautions",
                "softener_days"));
        columns.addAll(findings("reported"));
        columns.addAll(List.of("right_methods", "left_methods"));
        columns.addAll(findings("found"));
        columns.addAll(List.of(
                "booked_start",
                "slot_minutes",
                "arrived",
                "called_in",
                "finished",
                "room_ready",
                "stopped_early",
                "right_outcome",
                "left_outcome",
                "note"));
        return columns;
    }

    static List<String> bookings() {
        List<String> columns = new ArrayList<>(List.of(
                "booking_id",
                "patient_ref",
                "family_name",
                "given_name",
                "date_of_birth",
                "contact",
                "date",
                "start",
                "slot_minutes",
                "practitioner",
                "room",
                "method_planned",
                "ears"));
        columns.addAll(findings("reported"));
        columns.addAll(List.of("cautions", "status", "note"));
        return columns;
    }

    private static List<String> findings(String kind) {
        List<String> columns = new ArrayList<>();
        for (Ear ear : Ear.values()) {
            FINDINGS.forEach(finding -> columns.add(ear.code() + '_' + finding + '_' + kind));
        }
        return columns;
    }
}
