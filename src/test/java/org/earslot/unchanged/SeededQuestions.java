package org.earslot.unchanged;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Visits and referrals made up from a fixed seed, with the codes and names that the program itself lists. */
final class SeededQuestions {

    private static final List<String> FINDINGS = List.of("wax", "canal", "depth", "occlusion");

    private final Random dice;
    private final Map<String, List<String>> codes = new LinkedHashMap<>();
    private final List<String> practitioners = new ArrayList<>();

    /**
     * @param vocabulary as {@code /api/v1/vocabulary} answers
     * @param named as {@code /api/v1/practitioners} does
     */
    SeededQuestions(long seed, String vocabulary, String named) {
        dice = new Random(seed);
        JsonMapper json = JsonMapper.shared();
        json.readTree(vocabulary)
                .properties()
                .forEach(list -> codes.put(
                        list.getKey(),
                        list.getValue()
                                .valueStream()
                                .map(term -> term.path("code").stringValue())
                                .toList()));
        for (JsonNode practitioner : json.readTree(named)) {
            practitioners.add(practitioner.path("name").stringValue());
        }
    }

    List<Map<String, Object>> visits(int number) {
        List<Map<String, Object>> visits = new ArrayList<>();
        for (int i = 0; i < number; i++) {
            Map<String, Object> visit = new LinkedHashMap<>();
            if (chance(0.7)) {
                visit.put("practitioner", one(practitioners));
            }
            visit.put("method", one(codes.get("methods")));
            treatment(visit);
            visits.add(visit);
        }
        return visits;
    }

    /** As somebody on the telephone would give it: no red flag, the cautions asked about. */
    Map<String, Object> referral(int number) {
        Map<String, Object> referral = new LinkedHashMap<>();
        referral.put("patientRef", "Z%06d".formatted(number));
        referral.put("familyName", "Invented" + number);
        referral.put("givenName", "Person");
        referral.put(
                "dateOfBirth",
                "%d-%02d-%02d".formatted(1930 + dice.nextInt(75), 1 + dice.nextInt(12), 1 + dice.nextInt(28)));
        referral.put("contact", "01632 960%03d".formatted(dice.nextInt(1000)));
        referral.put("method", one(codes.get("methods")));
        treatment(referral);
        referral.put("cautionsAsked", true);
        Map<String, Object> redFlags = new LinkedHashMap<>();
        codes.get("redFlags").forEach(flag -> redFlags.put(flag, false));
        referral.put("redFlags", redFlags);
        if (chance(0.3)) {
            referral.put("priority", one(codes.get("priorities")));
        }
        return referral;
    }

    private void treatment(Map<String, Object> visit) {
        List<String> ears = chance(0.5) ? codes.get("ears") : List.of(one(codes.get("ears")));
        visit.put("ears", ears);
        if (chance(0.7)) {
            visit.put("firstVisit", chance(0.5));
        }
        if (chance(0.5)) {
            visit.put("hearingAid", chance(0.4));
        }
        if (chance(0.3)) {
            visit.put("cautions", List.of(one(codes.get("cautions"))));
        }
        if (chance(0.7)) {
            visit.put("softenerDays", dice.nextInt(15));
        }
        Map<String, Object> reported = new LinkedHashMap<>();
        for (String ear : ears) {
            Map<String, Object> findings = new LinkedHashMap<>();
            FINDINGS.stream().filter(any -> chance(0.4)).forEach(name -> findings.put(name, one(codes.get(name))));
            reported.put(ear, findings);
        }
        visit.put("reported", reported);
    }

    private boolean chance(double share) {
        return dice.nextDouble() < share;
    }

    private String one(List<String> of) {
        return of.get(dice.nextInt(of.size()));
    }
}
