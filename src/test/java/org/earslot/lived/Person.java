package org.earslot.lived;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.CookieManager;
import java.net.CookiePolicy;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.stream.Collectors;

/** Somebody at a screen of the clinic, signed in; signs in again when the session has ended. */
final class Person {

    private static final String PASSWORD = "earslot-demo";

    private final HttpClient client = HttpClient.newBuilder()
            .version(HttpClient.Version.HTTP_1_1)
            .cookieHandler(new CookieManager(null, CookiePolicy.ACCEPT_ALL))
            .followRedirects(HttpClient.Redirect.NEVER)
            .build();

    private final URI base;
    private final String name;

    Person(URI base, String name) {
        this.base = base;
        this.name = name;
    }

    String name() {
        return name;
    }

    /** A page that must be there. */
    Page open(String path) {
        Page page = look(path);
        assertThat(page.status())
                .as("%s opens %s: %s", name, path, page.refusal())
                .isEqualTo(200);
        return page;
    }

    /** A page, whatever it answers; redirects are followed. */
    Page look(String path) {
        Page page = follow(send(request(path).GET().build()), path);
        if (page.path().startsWith("/sign-in") && !path.startsWith("/sign-in")) {
            signIn(page);
            page = follow(send(request(path).GET().build()), path);
        }
        return page;
    }

    /** Presses the button of a form that must be there and must be accepted; the page that follows. */
    Page press(Page page, String action, Map<String, String> typed) {
        Page.Form form = page.form(action)
                .orElseThrow(() -> new AssertionError(
                        name + " finds no button for " + action + " on " + page.path() + ": " + page.text()));
        return send(form.with(typed));
    }

    Page press(Page page, String action) {
        return press(page, action, Map.of());
    }

    /** Sends a form that must be accepted; the page that follows. */
    Page send(Page.Form form) {
        Page answer = attempt(form);
        assertThat(answer.status())
                .as("%s sends %s: %s", name, form.action(), answer.refusal())
                .isEqualTo(200);
        return answer;
    }

    /** Sends a press as the script of the list does, perhaps long after it was made; the JSON that answers it. */
    String sendKept(Page.Form form) {
        HttpResponse<String> answer = send(post(form)
                .header("Accept", "application/json")
                .header("HX-Request", "true")
                .build());
        assertThat(answer.statusCode())
                .as("%s sends a kept press, %s: %s", name, form.action(), answer.body())
                .isEqualTo(200);
        return answer.body();
    }

    /** Sends a form, whatever is answered. */
    Page attempt(Page.Form form) {
        return follow(send(post(form).header("Accept", "text/html").build()), form.action());
    }

    private HttpRequest.Builder post(Page.Form form) {
        String body = form.fields().entrySet().stream()
                .flatMap(
                        field -> field.getValue().stream().map(value -> encoded(field.getKey()) + "=" + encoded(value)))
                .collect(Collectors.joining("&"));
        return HttpRequest.newBuilder(base.resolve(form.action()))
                .header("Content-Type", "application/x-www-form-urlencoded")
                .POST(BodyPublishers.ofString(body));
    }

    private Page follow(HttpResponse<String> answer, String path) {
        HttpResponse<String> last = answer;
        String at = path;
        for (int hops = 0; last.statusCode() / 100 == 3 && hops < 5; hops++) {
            URI to = last.request()
                    .uri()
                    .resolve(last.headers().firstValue("Location").orElseThrow());
            at = to.getRawPath() + (to.getRawQuery() == null ? "" : "?" + to.getRawQuery());
            last = send(request(at).GET().build());
        }
        return Page.of(at, last.statusCode(), last.body());
    }

    private void signIn(Page page) {
        Page.Form form = page.form("/sign-in").orElseThrow();
        Page after = attempt(form.with(Map.of("username", name, "password", PASSWORD)));
        assertThat(after.path()).as("%s signs in: %s", name, after.refusal()).doesNotContain("/sign-in");
    }

    private HttpResponse<String> send(HttpRequest request) {
        try {
            HttpResponse<String> answer = client.send(request, BodyHandlers.ofString());
            assertThat(answer.statusCode())
                    .as("%s, %s %s", name, request.method(), request.uri())
                    .isLessThan(500);
            return answer;
        } catch (IOException e) {
            throw new AssertionError(name + " got no answer from " + request.uri(), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(e);
        }
    }

    private HttpRequest.Builder request(String path) {
        return HttpRequest.newBuilder(base.resolve(path)).header("Accept", "text/html");
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }
}
