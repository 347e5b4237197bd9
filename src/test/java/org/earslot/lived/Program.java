package org.earslot.lived;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Another program of the clinic, by the interface for programs. */
final class Program {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final HttpClient client =
            HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
    private final URI base;
    private final String credentials;

    /** @param key name and key, joined by a colon */
    Program(URI base, String key) {
        this.base = base;
        this.credentials = "Basic " + Base64.getEncoder().encodeToString(key.getBytes(StandardCharsets.UTF_8));
    }

    /** What an address answers. */
    record Answer(int status, JsonNode body) {}

    JsonNode get(String path) {
        Answer answer = send("GET", path, null, Map.of());
        assertThat(answer.status()).as("GET %s: %s", path, answer.body()).isEqualTo(200);
        return answer.body();
    }

    /** Sends {@code body} and expects that it is accepted. */
    JsonNode post(String path, Object body) {
        Answer answer = send("POST", path, body, Map.of());
        assertThat(answer.status())
                .as("POST %s %s: %s", path, body, answer.body())
                .isBetween(200, 299);
        return answer.body();
    }

    /** Sends a request, whatever is answered. */
    Answer send(String method, String path, @Nullable Object body, Map<String, String> headers) {
        HttpRequest.Builder request = HttpRequest.newBuilder(base.resolve("/api/v1" + path))
                .header("Authorization", credentials)
                .header("Content-Type", "application/json")
                .method(
                        method,
                        body == null
                                ? BodyPublishers.noBody()
                                : BodyPublishers.ofString(JSON.writeValueAsString(body)));
        headers.forEach(request::header);
        try {
            HttpResponse<String> answer = client.send(request.build(), BodyHandlers.ofString());
            assertThat(answer.statusCode())
                    .as("%s %s: %s", method, path, answer.body())
                    .isLessThan(500);
            return new Answer(
                    answer.statusCode(), answer.body().isEmpty() ? JSON.nullNode() : JSON.readTree(answer.body()));
        } catch (IOException e) {
            throw new AssertionError("no answer from " + path, e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(e);
        }
    }
}
