package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Element;
import org.jsoup.parser.Parser;
import org.junit.jupiter.api.Test;

/** An element that is replaced by another takes its own condition with it: the condition belongs around it. */
class TemplateConditionsTest {

    private static final Path TEMPLATES = Path.of("src/main/resources/templates");

    @Test
    void no_condition_stands_on_what_is_replaced() throws IOException {
        try (Stream<Path> files = Files.walk(TEMPLATES)) {
            assertThat(files.filter(file -> file.toString().endsWith(".html")))
                    .hasSizeGreaterThan(50)
                    .allSatisfy(file -> assertThat(ignored(Files.readString(file)))
                            .as("%s", file)
                            .isEmpty());
        }
    }

    @Test
    void finds_one_that_does() {
        assertThat(ignored("<p><span th:if=\"${done}\" th:replace=\"~{page/marks :: icon('mark')}\"></span></p>"))
                .hasSize(1);
    }

    private static List<String> ignored(String template) {
        return Jsoup.parse(template, "", Parser.xmlParser()).select("[^th:]").stream()
                .filter(each -> each.hasAttr("th:replace") && (each.hasAttr("th:if") || each.hasAttr("th:unless")))
                .map(Element::tagName)
                .toList();
    }
}
