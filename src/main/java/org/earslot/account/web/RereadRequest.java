package org.earslot.account.web;

import jakarta.servlet.ReadListener;
import jakarta.servlet.ServletInputStream;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import java.io.BufferedReader;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import org.earslot.page.Refused;

/** A request whose body has been read already, and is read once more by whoever handles it. */
final class RereadRequest extends HttpServletRequestWrapper {

    private final byte[] body;

    private RereadRequest(HttpServletRequest request, byte[] body) {
        super(request);
        this.body = body;
    }

    /** Reads the body; refuses one of more than {@code most} bytes. */
    static RereadRequest of(HttpServletRequest request, int most) throws IOException {
        byte[] body = request.getInputStream().readNBytes(most + 1);
        if (body.length > most) {
            throw new Refused(413, "too-large", "account.idempotency.tooLarge", most / 1024 / 1024);
        }
        return new RereadRequest(request, body);
    }

    byte[] body() {
        return body;
    }

    @Override
    public ServletInputStream getInputStream() {
        return new Again(new ByteArrayInputStream(body));
    }

    @Override
    public BufferedReader getReader() {
        Charset charset =
                getCharacterEncoding() == null ? StandardCharsets.UTF_8 : Charset.forName(getCharacterEncoding());
        return new BufferedReader(new InputStreamReader(getInputStream(), charset));
    }

    /** The body from its beginning. */
    private static final class Again extends ServletInputStream {

        private final ByteArrayInputStream bytes;

        Again(ByteArrayInputStream bytes) {
            this.bytes = bytes;
        }

        @Override
        public int read() {
            return bytes.read();
        }

        @Override
        public int read(byte[] into, int offset, int length) {
            return bytes.read(into, offset, length);
        }

        @Override
        public boolean isFinished() {
            return bytes.available() == 0;
        }

        @Override
        public boolean isReady() {
            return true;
        }

        @Override
        public void setReadListener(ReadListener listener) {
            throw new UnsupportedOperationException("the body is read at once");
        }
    }
}
