package org.earslot.lived;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;

/** A page as somebody sees it, with its forms as a browser without scripts would send them. */
record Page(String path, int status, Document document) {

    static Page of(String path, int status, String html) {
        return new Page(path, status, Jsoup.parse(html));
    }

    /** A form with what it would send if its button were pressed now. */
    record Form(String action, Map<String, List<String>> fields) {

        /** The same with other values; a value of null leaves the field out. */
        Form with(Map<String, String> typed) {
            Map<String, List<String>> all = new LinkedHashMap<>(fields);
            typed.forEach((name, value) -> {
                if (value == null) {
                    all.remove(name);
                } else {
                    all.put(name, List.of(value));
                }
            });
            return new Form(action, all);
        }
    }

    /** The forms sent by POST whose address fits {@code action} wholly. */
    List<Form> forms(String action) {
        Pattern wanted = Pattern.compile(action);
        return document.select("form[method=post]").stream()
                .filter(form -> wanted.matcher(form.attr("action")).matches())
                .map(Page::read)
                .toList();
    }

    Optional<Form> form(String action) {
        return forms(action).stream().findFirst();
    }

    /** What it says is wrong. */
    String refusal() {
        return document.select("[role=alert], .problem, main h1").text();
    }

    String text() {
        return document.select("main").text();
    }

    /** What a box to tick sends once it is ticked. */
    String ticked(String name) {
        return document.select("input[type=checkbox][name=" + name + "]").attr("value");
    }

    boolean has(String selector) {
        return document.selectFirst(selector) != null;
    }

    private static Form read(Element form) {
        Map<String, List<String>> fields = new LinkedHashMap<>();
        for (Element input : form.select("input[name], textarea[name], select[name]")) {
            String name = input.attr("name");
            for (String value : values(input)) {
                fields.computeIfAbsent(name, any -> new ArrayList<>()).add(value);
            }
        }
        return new Form(form.attr("action"), fields);
    }

    private static List<String> values(Element input) {
        return switch (input.tagName()) {
            case "textarea" -> List.of(input.text());
            case "select" -> chosen(input);
            default -> {
                boolean ticks = List.of("radio", "checkbox").contains(input.attr("type"));
                yield ticks && !input.hasAttr("checked") ? List.of() : List.of(input.attr("value"));
            }
        };
    }

    private static List<String> chosen(Element select) {
        List<String> chosen =
                select.select("option[selected]").stream().map(Element::val).toList();
        boolean one = !select.hasAttr("multiple");
        return chosen.isEmpty() && one
                ? select.select("option").stream().limit(1).map(Element::val).toList()
                : chosen;
    }
}
