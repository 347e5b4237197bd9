package org.earslot.referral;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.earslot.caution.Mark;
import org.earslot.clinic.Audited;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What is asked first, and where guidance sends people: the defaults, replaced where the lead has said so. */
@Service
public class RedFlags {

    private static final CSVFormat FORMAT = CSVFormat.RFC4180
            .builder()
            .setHeader()
            .setSkipHeaderRecord(true)
            .setCommentMarker('#')
            .get();

    private final RedFlagGuidances guidances;
    private final ClinicClock clock;
    private final ApplicationEventPublisher events;
    private final List<RedFlagText> defaults = readDefaults();

    RedFlags(RedFlagGuidances guidances, ClinicClock clock, ApplicationEventPublisher events) {
        this.guidances = guidances;
        this.clock = clock;
        this.events = events;
    }

    /** Every red flag in the order in which it is asked. */
    @Transactional(readOnly = true)
    public List<RedFlagText> texts(ClinicId clinicId) {
        Map<RedFlag, RedFlagText> texts = new EnumMap<>(RedFlag.class);
        defaults.forEach(text -> texts.put(text.flag(), text));
        guidances.findByClinicId(clinicId).forEach(own -> texts.put(own.text().flag(), own.text()));
        return new ArrayList<>(texts.values());
    }

    /** Says it in the clinic's own words from now on. */
    @Transactional
    public void say(ClinicId clinicId, RedFlagText text, String who) {
        guidances
                .findByClinicIdAndFlag(clinicId, text.flag().code())
                .ifPresentOrElse(
                        own -> own.say(text, who, clock.now()),
                        () -> guidances.save(new RedFlagGuidance(clinicId, text, who, clock.now())));
        events.publishEvent(new Audited.Entry(
                clinicId,
                "red-flag-worded",
                "set-up",
                text.flag().code(),
                text.mark().code()));
    }

    /** The defaults that come with the program. */
    static List<RedFlagText> readDefaults() {
        try (Reader reader = new InputStreamReader(
                        RedFlags.class.getResourceAsStream("/referral/red-flags.csv"), StandardCharsets.UTF_8);
                var records = FORMAT.parse(reader)) {
            return records.stream()
                    .map(line -> new RedFlagText(
                            RedFlag.of(line.get("flag")).orElseThrow(),
                            line.get("ask"),
                            line.get("sends_to"),
                            line.get("source"),
                            Mark.of(line.get("mark")).orElseThrow()))
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
