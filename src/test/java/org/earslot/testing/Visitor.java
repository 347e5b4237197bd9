package org.earslot.testing;

import java.io.IOException;
import java.io.InputStream;
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
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.earslot.account.AccountAdministration;
import org.earslot.account.Role;
import org.earslot.clinic.ClinicId;
import org.jspecify.annotations.Nullable;

/** A person who has signed in at a real server, by plain HTTP and without scripts. */
public final class Visitor {

    private static final String CHOSEN = "four unrelated words here";
    private static final Pattern TOKEN = Pattern.compile("name=\"_csrf\"[^>]* (?:value|content)=\"([^\"]+)\"");

    private final CookieManager cookies = new CookieManager(null, CookiePolicy.ACCEPT_ALL);
    private final HttpClient client = HttpClient.newBuilder()
            .version(HttpClient.Version.HTTP_1_1)
            .cookieHandler(cookies)
            .followRedirects(HttpClient.Redirect.NEVER)
            .build();

    private final int port;
    private String token = "";

    private Visitor(int port) {
        this.port = port;
    }

    /** Makes an account of that role and signs in with it. */
    public static Visitor signIn(
            int port, AccountAdministration admission, ClinicId clinic, Role role, @Nullable UUID practitioner)
            throws IOException, InterruptedException {
        AccountAdministration.Handed handed = admission
                .admit(clinic, role.code().charAt(0) + UUID.randomUUID().toString(), "Someone", role, practitioner)
                .orElseThrow();
        Visitor visitor = new Visitor(port);
        visitor.get("/sign-in");
        visitor.post("/sign-in", "username", handed.signInName(), "password", handed.password());
        visitor.get("/password");
        visitor.post(
                "/password", "currentPassword", handed.password(), "newPassword", CHOSEN, "repeatedPassword", CHOSEN);
        visitor.get("/day");
        return visitor;
    }

    /** The session's cookie as a header has it, for requests by hand. */
    public String cookie() {
        return cookies.getCookieStore().getCookies().stream()
                .map(cookie -> cookie.getName() + "=" + cookie.getValue())
                .collect(Collectors.joining("; "));
    }

    public HttpResponse<String> get(String path) throws IOException, InterruptedException {
        HttpResponse<String> answer = client.send(request(path).build(), BodyHandlers.ofString());
        Matcher found = TOKEN.matcher(answer.body());
        if (found.find()) {
            token = found.group(1);
        }
        return answer;
    }

    /** Asks for a page as an open screen does that shows itself again. */
    public HttpResponse<String> getAgain(String path) throws IOException, InterruptedException {
        return client.send(request(path).header("HX-Request", "true").build(), BodyHandlers.ofString());
    }

    /** Sends a form; fields are name, value, name, value. */
    public HttpResponse<String> post(String path, String... fields) throws IOException, InterruptedException {
        String body = IntStream.range(0, fields.length / 2)
                .mapToObj(i -> encoded(fields[2 * i]) + "=" + encoded(fields[2 * i + 1]))
                .collect(Collectors.joining("&", "_csrf=" + encoded(token) + "&", ""));
        return client.send(
                request(path)
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .POST(BodyPublishers.ofString(body))
                        .build(),
                BodyHandlers.ofString());
    }

    /** An open stream of server-sent events. */
    public final class Stream implements AutoCloseable {

        /** Stands at the end of the lines once the server has closed the stream. */
        public static final String END = "(end)";

        private final HttpResponse<InputStream> answer;
        private final BlockingQueue<String> lines = new LinkedBlockingQueue<>();

        private Stream(HttpResponse<InputStream> answer) {
            this.answer = answer;
            Thread reader = new Thread(this::read, "stream-reader");
            reader.setDaemon(true);
            reader.start();
        }

        public int status() {
            return answer.statusCode();
        }

        /** Its lines as they come. */
        public BlockingQueue<String> lines() {
            return lines;
        }

        private void read() {
            List<Byte> line = new ArrayList<>();
            try (InputStream in = answer.body()) {
                for (int next = in.read(); next >= 0; next = in.read()) {
                    if (next == '\n') {
                        byte[] bytes = new byte[line.size()];
                        for (int i = 0; i < bytes.length; i++) {
                            bytes[i] = line.get(i);
                        }
                        lines.add(new String(bytes, StandardCharsets.UTF_8));
                        line.clear();
                    } else {
                        line.add((byte) next);
                    }
                }
            } catch (IOException e) {
                // Closed on this side or the other; both are the end.
            }
            lines.add(END);
        }

        @Override
        public void close() {
            try {
                answer.body().close();
            } catch (IOException e) {
                // Gone already.
            }
        }
    }

    public Stream stream(String path) throws IOException, InterruptedException {
        return new Stream(
                client.send(request(path).header("Accept", "text/event-stream").build(), BodyHandlers.ofInputStream()));
    }

    private HttpRequest.Builder request(String path) {
        return HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + path));
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }
}
