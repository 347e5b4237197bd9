package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.util.Collection;
import java.util.Set;
import java.util.stream.Collectors;
import org.earslot.testing.PageTest;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.micrometer.metrics.autoconfigure.MetricsProperties;
import org.springframework.http.server.observation.DefaultServerRequestObservationConvention;
import org.springframework.http.server.observation.ServerRequestObservationContext;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.MvcResult;
import org.springframework.web.servlet.HandlerMapping;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/** Requests are counted by the pattern of their address: there is room for every pattern, and no raw address takes any. */
@PageTest
class AddressMetricsTest {

    @Autowired
    private Collection<RequestMappingInfoHandlerMapping> mappings;

    @Autowired
    private MetricsProperties settings;

    @Autowired
    private MockMvc mvc;

    @Test
    void every_pattern_of_an_address_has_room_twice_over() {
        Set<String> patterns = mappings.stream()
                .flatMap(mapping -> mapping.getHandlerMethods().keySet().stream())
                .flatMap(info -> info.getPatternValues().stream())
                .collect(Collectors.toSet());
        // More than the 100 that there is room for where nothing is set.
        assertThat(patterns).hasSizeGreaterThan(100);
        assertThat(settings.getWeb().getServer().getMaxUriTags()).isGreaterThan(2 * patterns.size());
    }

    @Test
    void an_address_without_a_pattern_is_counted_under_one_word() throws Exception {
        assertThat(counted("/no/such/page/1")).isEqualTo(counted("/no/such/page/2"));
        assertThat(counted("/styles/none-1.css")).isEqualTo(counted("/styles/none-2.css"));
    }

    private String counted(String address) throws Exception {
        MvcResult result = mvc.perform(get(address)).andReturn();
        ServerRequestObservationContext context =
                new ServerRequestObservationContext(result.getRequest(), result.getResponse());
        context.setPathPattern(
                (String) result.getRequest().getAttribute(HandlerMapping.BEST_MATCHING_PATTERN_ATTRIBUTE));
        String uri = new DefaultServerRequestObservationConvention()
                .getLowCardinalityKeyValues(context).stream()
                        .filter(value -> value.getKey().equals("uri"))
                        .findFirst()
                        .orElseThrow()
                        .getValue();
        assertThat(uri).doesNotContain("1", "2");
        return uri;
    }
}
