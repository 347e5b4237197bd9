package org.earslot.testing;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.net.Socket;
import java.net.SocketException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** HTTP by hand, for requests that no client sends: one request, one answer, then the connection is closed. */
public final class Wire {

    private static final int LONGEST_WAIT_MILLIS = 60_000;

    private Wire() {}

    /** What came back. */
    public record Answer(int status, List<String> headers, String body) {

        /** The value of the first header of that name. */
        public Optional<String> header(String name) {
            String prefix = name.toLowerCase(Locale.ROOT) + ":";
            return headers.stream()
                    .filter(line -> line.toLowerCase(Locale.ROOT).startsWith(prefix))
                    .map(line -> line.substring(prefix.length()).strip())
                    .findFirst();
        }
    }

    /**
     * Sends a request line, header lines and a body as they are given; adds {@code Connection: close}, and where the
     * headers name none, a {@code Host} and the length of the body.
     */
    public static Answer ask(int port, String requestLine, List<String> headers, byte[] body) throws IOException {
        StringBuilder head = new StringBuilder(requestLine + " HTTP/1.1\r\nConnection: close\r\n");
        headers.forEach(line -> head.append(line).append("\r\n"));
        if (headers.stream().noneMatch(line -> line.startsWith("Host:"))) {
            head.append("Host: 127.0.0.1:").append(port).append("\r\n");
        }
        boolean length = headers.stream()
                .anyMatch(line -> line.startsWith("Content-Length:") || line.startsWith("Transfer-Encoding:"));
        if (!length && body.length > 0) {
            head.append("Content-Length: ").append(body.length).append("\r\n");
        }
        try (Socket socket = new Socket("127.0.0.1", port)) {
            socket.setSoTimeout(LONGEST_WAIT_MILLIS);
            OutputStream out = socket.getOutputStream();
            try {
                out.write(head.append("\r\n").toString().getBytes(StandardCharsets.ISO_8859_1));
                out.write(body);
                socket.shutdownOutput();
            } catch (SocketException e) {
                // The server has answered and closed before it had all.
            }
            return read(socket);
        }
    }

    public static Answer ask(int port, String requestLine, String... headers) throws IOException {
        return ask(port, requestLine, List.of(headers), new byte[0]);
    }

    /** A form as it is given, percent signs and all. */
    public static Answer post(int port, String path, String form, String... headers) throws IOException {
        List<String> all = new java.util.ArrayList<>(List.of(headers));
        all.add("Content-Type: application/x-www-form-urlencoded");
        return ask(port, "POST " + path, all, form.getBytes(StandardCharsets.ISO_8859_1));
    }

    private static Answer read(Socket socket) throws IOException {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        try {
            socket.getInputStream().transferTo(all);
        } catch (SocketException e) {
            // Closed hard after the answer, as what was sent had not been read to its end.
        }
        String text = all.toString(StandardCharsets.UTF_8);
        int end = text.indexOf("\r\n\r\n");
        if (end < 0) {
            throw new IOException("no answer");
        }
        List<String> lines = List.of(text.substring(0, end).split("\r\n"));
        int status = Integer.parseInt(lines.get(0).split(" ")[1]);
        return new Answer(status, lines.subList(1, lines.size()), text.substring(end + 4));
    }
}
