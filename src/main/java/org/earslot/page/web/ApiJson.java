package org.earslot.page.web;

import com.fasterxml.jackson.annotation.Nulls;
import org.springframework.boot.jackson.autoconfigure.JsonMapperBuilderCustomizer;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import tools.jackson.core.StreamReadFeature;
import tools.jackson.databind.DeserializationFeature;

/** How the bodies of programs are read: nothing that a program sends is ignored, it is used or refused. */
@Configuration
class ApiJson {

    /** Refuses unknown fields, a field named twice, and null as an element of a list or a map. */
    @Bean
    JsonMapperBuilderCustomizer nothingIgnored() {
        return builder -> builder.enable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
                .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                .changeDefaultNullHandling(handling -> handling.withContentNulls(Nulls.FAIL));
    }
}
