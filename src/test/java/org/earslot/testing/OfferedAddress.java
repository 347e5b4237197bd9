package org.earslot.testing;

import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.request;

import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.springframework.core.DefaultParameterNameDiscoverer;
import org.springframework.core.MethodParameter;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/**
 * One address as the application offers it.
 *
 * @param path the pattern with a plausible value in place of each variable
 * @param offered its conditions: parameters, what it takes and gives
 */
public record OfferedAddress(HttpMethod method, String pattern, String path, RequestMappingInfo offered) {

    private static final Pattern VARIABLE = Pattern.compile("\\{(?:\\*)?(\\w+)[^/]*}");

    /** Each method of each pattern; one that takes every method is asked by GET. */
    public static List<OfferedAddress> all(Collection<RequestMappingInfoHandlerMapping> mappings) {
        List<OfferedAddress> addresses = new ArrayList<>();
        mappings.forEach(mapping ->
                mapping.getHandlerMethods().forEach((offered, method) -> addresses.addAll(of(offered, method))));
        return addresses;
    }

    private static List<OfferedAddress> of(RequestMappingInfo offered, HandlerMethod method) {
        Set<RequestMethod> verbs = offered.getMethodsCondition().getMethods();
        List<OfferedAddress> addresses = new ArrayList<>();
        for (String pattern : offered.getPatternValues()) {
            for (RequestMethod verb : verbs.isEmpty() ? Set.of(RequestMethod.GET) : verbs) {
                addresses.add(new OfferedAddress(verb.asHttpMethod(), pattern, filled(pattern, method), offered));
            }
        }
        return addresses;
    }

    public boolean forPrograms() {
        return pattern.startsWith("/api/");
    }

    /** A request with an empty body of the kind that is taken here. */
    public MockHttpServletRequestBuilder bare() {
        MockHttpServletRequestBuilder request = request(method, path).contentType(consumes());
        return consumes().equals(MediaType.APPLICATION_JSON_VALUE) ? request.content("{}") : request;
    }

    private String consumes() {
        return offered.getConsumesCondition().getConsumableMediaTypes().stream()
                .findFirst()
                .map(MediaType::toString)
                .orElse(forPrograms() ? MediaType.APPLICATION_JSON_VALUE : MediaType.APPLICATION_FORM_URLENCODED_VALUE);
    }

    private static String filled(String pattern, HandlerMethod method) {
        return VARIABLE.matcher(pattern.replace("/**", "")).replaceAll(found -> plausible(found.group(1), method));
    }

    private static String plausible(String variable, HandlerMethod method) {
        Class<?> type = Arrays.stream(method.getMethodParameters())
                .filter(parameter -> parameter.hasParameterAnnotation(PathVariable.class))
                .filter(parameter -> variable.equals(name(parameter)))
                .findFirst()
                .<Class<?>>map(MethodParameter::getParameterType)
                .orElse(String.class);
        if (type == LocalDate.class || variable.equals("date")) {
            return "2026-03-03";
        } else if (type == YearMonth.class || variable.equals("month")) {
            return "2026-03";
        }
        return type == UUID.class || variable.equals("id") ? UUID.randomUUID().toString() : "x";
    }

    private static String name(MethodParameter parameter) {
        parameter.initParameterNameDiscovery(new DefaultParameterNameDiscoverer());
        return Stream.of(parameter.getParameterAnnotation(PathVariable.class).value(), parameter.getParameterName())
                .filter(name -> name != null && !name.isEmpty())
                .findFirst()
                .orElse("");
    }

    @Override
    public String toString() {
        return method + " " + pattern;
    }
}
