package org.earslot.testing;

import java.util.Collection;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.RequestMappingInfoHandlerMapping;

/** Every address of the application that can be read, with values in place of its variables. */
public final class EveryAddress {

    private static final Pattern VARIABLE = Pattern.compile("\\{(?:\\*)?(\\w+)[^/]*}");

    private final Map<String, Set<String>> values;

    /** @param values by the variable's name; those of an {@code {id}} by the address before it, {@code /appointments} */
    public EveryAddress(Map<String, Set<String>> values) {
        this.values = values;
    }

    /** Once for each value of each variable; streams of changes, which never end, are left out. */
    public Set<String> of(Collection<RequestMappingInfoHandlerMapping> mappings) {
        Set<String> addresses = new TreeSet<>();
        for (RequestMappingInfoHandlerMapping mapping : mappings) {
            for (RequestMappingInfo offered : mapping.getHandlerMethods().keySet()) {
                Set<RequestMethod> methods = offered.getMethodsCondition().getMethods();
                if (methods.isEmpty() || methods.contains(RequestMethod.GET)) {
                    offered.getPatternValues().stream()
                            .filter(pattern -> !pattern.contains("actuator") && !pattern.endsWith("/changes"))
                            .forEach(pattern -> addresses.addAll(filled(pattern)));
                }
            }
        }
        return addresses;
    }

    private Set<String> filled(String pattern) {
        Matcher variable = VARIABLE.matcher(pattern);
        if (!variable.find()) {
            return Set.of(pattern.replace("/**", ""));
        }
        String name = variable.group(1);
        String key = name.equals("id") ? pattern.replaceFirst("^(?:/api/v1)?(/\\w+).*", "$1") : name;
        Set<String> all = new TreeSet<>();
        for (String value : values.getOrDefault(key, Set.of(UUID.randomUUID().toString()))) {
            all.addAll(filled(pattern.substring(0, variable.start()) + value + pattern.substring(variable.end())));
        }
        return all;
    }
}
