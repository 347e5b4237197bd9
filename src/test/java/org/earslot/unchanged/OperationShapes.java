package org.earslot.unchanged;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.SerializationFeature;
import tools.jackson.databind.json.JsonMapper;

/**
 * The operations of an OpenAPI document, each with the shapes it refers to written out in place, so that the names of
 * classes that became names of schemas, tags and operations do not matter.
 */
final class OperationShapes {

    private static final Set<String> NAMED_AFTER_CLASSES = Set.of("tags", "operationId");
    private static final JsonMapper JSON =
            JsonMapper.builder().enable(SerializationFeature.INDENT_OUTPUT).build();

    private final JsonNode document;
    private final Deque<String> within = new ArrayDeque<>();

    OperationShapes(String document) {
        this.document = JSON.readTree(document);
    }

    void addTo(Recording recording) {
        for (String part : new TreeMap<>(fields(document)).keySet()) {
            if (!Set.of("paths", "components", "tags").contains(part)) {
                recording.add("document, " + part, text(document.path(part)));
            }
        }
        recording.add(
                "document, securitySchemes", text(document.path("components").path("securitySchemes")));
        fields(document.path("paths"))
                .forEach((path, operations) -> fields(operations)
                        .forEach((method, operation) -> recording.add(method + " " + path, text(operation))));
    }

    private String text(JsonNode node) {
        return JSON.writeValueAsString(written(node, true));
    }

    private static Map<String, JsonNode> fields(JsonNode node) {
        Map<String, JsonNode> fields = new TreeMap<>();
        node.properties().forEach(field -> fields.put(field.getKey(), field.getValue()));
        return fields;
    }

    private Object written(JsonNode node, boolean top) {
        if (node.has("$ref")) {
            return referred(node.path("$ref").stringValue());
        } else if (node.isObject()) {
            Map<String, Object> sorted = new TreeMap<>();
            fields(node).forEach((name, value) -> {
                if (!top || !NAMED_AFTER_CLASSES.contains(name)) {
                    sorted.put(name, written(value, false));
                }
            });
            return sorted;
        } else if (node.isArray()) {
            return node.valueStream().map(element -> written(element, false)).toList();
        }
        return node;
    }

    private Object referred(String reference) {
        if (within.contains(reference)) {
            return "as " + within.stream().toList().indexOf(reference) + " levels above";
        }
        within.push(reference);
        try {
            return written(document.at(reference.substring(1)), false);
        } finally {
            within.pop();
        }
    }
}
