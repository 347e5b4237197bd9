package org.earslot.unchanged;

import java.io.UnsupportedEncodingException;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.Map;
import java.util.regex.Pattern;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.springframework.mock.web.MockHttpServletResponse;
import tools.jackson.databind.SerializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** Text without what differs from start to start: ids become {@code #1}, {@code #2} in their order of occurrence. */
final class Plain {

    private static final Pattern ID = Pattern.compile("[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}");
    private static final Pattern STAMP = Pattern.compile("(/[\\w./-]+)-[0-9a-f]{32}(\\.\\w+)");
    private static final Pattern SCRIPTS = Pattern.compile("/scripts/[0-9a-f]{32}/");
    private static final Pattern SECONDS = Pattern.compile("(\"seconds\"\\s*:\\s*)[0-9.E-]+");

    /** Of a fit: its last part is a hash of all that it rests on, ids among it. */
    private static final Pattern VERSION = Pattern.compile("\\b\\d{4}-\\d\\d-\\d\\d\\.[0-9a-f]{8}\\b");

    private static final int INDENT = 1;
    private static final JsonMapper JSON = JsonMapper.builder()
            .enable(SerializationFeature.INDENT_OUTPUT, SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS)
            .build();

    private Plain() {}

    static String text(String text) {
        Map<String, String> numbers = new HashMap<>();
        String numbered = ID.matcher(text)
                .replaceAll(found -> numbers.computeIfAbsent(found.group(), any -> "#" + (numbers.size() + 1)));
        return VERSION.matcher(SECONDS.matcher(numbered).replaceAll("$1(some)")).replaceAll("(version)");
    }

    /** JSON over several lines, its fields by name: maps that are written out have no order. */
    static String json(String json) {
        return text(JSON.writeValueAsString(JSON.readValue(json, Object.class)));
    }

    /** The address, the status and what was answered, each by its kind. */
    static String answer(String address, MockHttpServletResponse answer) throws UnsupportedEncodingException {
        String type = String.valueOf(answer.getContentType());
        String head = text(address) + "\n" + answer.getStatus() + " " + type + "\n";
        String body = answer.getContentAsString(StandardCharsets.UTF_8);
        if (answer.getRedirectedUrl() != null) {
            head += text(answer.getRedirectedUrl()) + "\n";
        }
        if (type.contains("json")) {
            return head + json(body);
        }
        return head + (type.startsWith("text/html") ? page(body) : text(body));
    }

    /** One element or text a line; without tokens, and without the stamps in the addresses of styles and scripts. */
    static String page(String html) {
        Document page = Jsoup.parse(html);
        page.outputSettings().indentAmount(INDENT);
        page.select("input[name=_csrf]").attr("value", "(token)");
        page.select("meta[name=_csrf]").attr("content", "(token)");
        page.select("th:containsOwn(Seconds)").forEach(Plain::blankColumn);
        return text(SCRIPTS.matcher(STAMP.matcher(page.outerHtml()).replaceAll("$1$2"))
                .replaceAll("/scripts/"));
    }

    /** How long something took differs each time. */
    private static void blankColumn(Element head) {
        int column = head.elementSiblingIndex();
        head.parents()
                .select("table")
                .select("tbody tr")
                .forEach(row -> row.child(column).text("(some)"));
    }
}
