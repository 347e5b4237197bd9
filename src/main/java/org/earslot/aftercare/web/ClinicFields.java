package org.earslot.aftercare.web;

import java.util.HashMap;
import java.util.Map;
import org.earslot.aftercare.LetterKind;
import org.earslot.aftercare.Letters;
import org.earslot.clinic.Clinic;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.Clinics;
import org.springframework.stereotype.Component;

/** What the clinic puts into the fields of a letter: its letterhead, the day, and its advice for afterwards. */
@Component
class ClinicFields {

    private final Letters letters;
    private final Clinics clinics;
    private final ClinicClock clock;

    ClinicFields(Letters letters, Clinics clinics, ClinicClock clock) {
        this.letters = letters;
        this.clinics = clinics;
        this.clock = clock;
    }

    Map<String, String> of(ClinicId clinicId) {
        Clinic clinic = clinics.findById(clinicId).orElseThrow();
        Map<String, String> fields = new HashMap<>();
        fields.put("clinic", clinic.name());
        fields.put("phone", LetterWords.text(clinic.contact().phone()));
        fields.put("address", LetterWords.text(clinic.contact().address()));
        fields.put("hours", LetterWords.text(clinic.contact().openingHours()));
        fields.put("today", LetterWords.day(clock.today(clinicId)));
        fields.put("aftercare", piece(letters.body(clinicId, LetterKind.AFTERCARE), fields));
        return fields;
    }

    /** A piece of advice with the clinic's phone filled in. */
    static String piece(String text, Map<String, String> fields) {
        return text.replace("{phone}", fields.getOrDefault("phone", "")).strip();
    }
}
