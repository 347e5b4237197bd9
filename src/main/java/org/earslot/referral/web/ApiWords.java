package org.earslot.referral.web;

import io.swagger.v3.oas.models.media.Schema;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.earslot.ear.AdverseEvent;
import org.earslot.ear.Canal;
import org.earslot.ear.Caution;
import org.earslot.ear.Depth;
import org.earslot.ear.Ear;
import org.earslot.ear.Method;
import org.earslot.ear.Occlusion;
import org.earslot.ear.Outcome;
import org.earslot.ear.StoppedEarly;
import org.earslot.ear.Wax;
import org.earslot.ear.Word;
import org.earslot.patient.ContactRoute;
import org.earslot.referral.Origin;
import org.earslot.referral.Priority;
import org.springdoc.core.customizers.OpenApiCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** Lists in the description of the interface the codes that each field of words may hold. */
@Configuration
class ApiWords {

    private static final Map<String, Word[]> ANYWHERE = Map.ofEntries(
            Map.entry("method", Method.values()),
            Map.entry("methods", Method.values()),
            Map.entry("wax", Wax.values()),
            Map.entry("canal", Canal.values()),
            Map.entry("depth", Depth.values()),
            Map.entry("occlusion", Occlusion.values()),
            Map.entry("outcome", Outcome.values()),
            Map.entry("adverseEvent", AdverseEvent.values()),
            Map.entry("adverseEvents", AdverseEvent.values()),
            Map.entry("stoppedEarly", StoppedEarly.values()),
            Map.entry("dominantHand", Ear.values()));

    private static final Map<String, Word[]> OF_REFERRALS = Map.of(
            "priority", Priority.values(),
            "origin", Origin.values(),
            "preferredRoute", ContactRoute.values(),
            "ears", Ear.values(),
            "cautions", Caution.values(),
            "cautionsNotKnown", Caution.values());

    private static final String REFERRAL = "ReferralBody";

    @Bean
    OpenApiCustomizer wordsOfFields() {
        return api -> api.getComponents().getSchemas().forEach(ApiWords::list);
    }

    @SuppressWarnings({"rawtypes", "unchecked"})
    private static void list(String name, Schema schema) {
        Map<String, Schema> properties = schema.getProperties() == null ? Map.of() : schema.getProperties();
        properties.forEach((field, property) -> words(name, field).ifPresent(words -> {
            Schema holder = property.getItems() == null ? property : property.getItems();
            holder.setEnum(List.copyOf(Word.codes(words)));
        }));
    }

    private static Optional<Word[]> words(String schema, String field) {
        return Optional.ofNullable(ANYWHERE.get(field))
                .or(() -> Optional.ofNullable(schema.equals(REFERRAL) ? OF_REFERRALS.get(field) : null));
    }
}
