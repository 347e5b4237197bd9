package org.earslot.referral;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.net.URLDecoder;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import org.earslot.clinic.ClinicId;

/** A referral form begun and not finished: its fields as they were typed, right or wrong. */
@Entity
public class ReferralDraft {

    @Id
    private UUID id;

    private ClinicId clinicId;
    private String fields;
    private String begunBy;
    private Instant savedAt;

    @Version
    private int version;

    protected ReferralDraft() {}

    ReferralDraft(UUID id, ClinicId clinicId, Map<String, List<String>> typed, String who, Instant now) {
        this.id = id;
        this.clinicId = clinicId;
        this.begunBy = who;
        keep(typed, now);
    }

    final void keep(Map<String, List<String>> typed, Instant now) {
        fields = typed.entrySet().stream()
                .flatMap(field -> field.getValue().stream()
                        .filter(value -> !value.isBlank())
                        .map(value -> coded(field.getKey()) + "=" + coded(value)))
                .collect(Collectors.joining("&"));
        savedAt = now;
    }

    /** The fields with what was typed. */
    public Map<String, List<String>> typed() {
        Map<String, List<String>> typed = new LinkedHashMap<>();
        for (String pair : fields.split("&")) {
            int middle = pair.indexOf('=');
            if (middle > 0) {
                typed.computeIfAbsent(decoded(pair.substring(0, middle)), field -> new ArrayList<>())
                        .add(decoded(pair.substring(middle + 1)));
            }
        }
        return typed;
    }

    /** The first value of a field, empty where nothing was typed. */
    public String get(String field) {
        return typed().getOrDefault(field, List.of("")).get(0);
    }

    private static String coded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }

    private static String decoded(String text) {
        return URLDecoder.decode(text, StandardCharsets.UTF_8);
    }

    public UUID id() {
        return id;
    }

    public String begunBy() {
        return begunBy;
    }

    public Instant savedAt() {
        return savedAt;
    }
}
