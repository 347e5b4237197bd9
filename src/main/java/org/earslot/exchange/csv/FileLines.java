package org.earslot.exchange.csv;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** The lines of a file one by one, decoded each by itself, so that a wrong byte costs its own line only. */
final class FileLines {

    /** No line and no row holds more characters. */
    static final int LONGEST = 65_536;

    private static final Charset ANY_BYTES = Charset.forName("windows-1252");

    private final InputStream in;
    private final Charset charset;
    private final Deque<FileLine> given = new ArrayDeque<>();
    private final byte[] chunk = new byte[65_536];
    private int from;
    private int to;
    private byte[] line = new byte[1024];
    private int length;
    private long number;
    private long bytesRead;

    FileLines(InputStream in, Charset charset) throws IOException, UnreadableFile {
        this.in = in;
        this.charset = charset;
        skipByteOrderMark();
    }

    /** The next line, or null after the last. */
    @Nullable
    FileLine next() throws IOException {
        return given.isEmpty() ? read() : given.pop();
    }

    /** Gives lines back, to come again in their order. */
    void giveBack(List<FileLine> lines) {
        for (int i = lines.size() - 1; i >= 0; i--) {
            given.push(lines.get(i));
        }
    }

    long bytesRead() {
        return bytesRead;
    }

    private void skipByteOrderMark() throws IOException, UnreadableFile {
        fill();
        if (starts(0xEF, 0xBB, 0xBF)) {
            from = 3;
        } else if (starts(0xFF, 0xFE) || starts(0xFE, 0xFF)) {
            throw new UnreadableFile("the file is written in UTF-16", "save the file as CSV in UTF-8");
        } else if (starts('P', 'K', 3, 4)) {
            throw new UnreadableFile("the file is a workbook or an archive, not CSV", "save the sheet as CSV in UTF-8");
        }
    }

    private boolean starts(int... bytes) {
        for (int i = 0; i < bytes.length; i++) {
            if (i >= to || (chunk[i] & 0xFF) != bytes[i]) {
                return false;
            }
        }
        return true;
    }

    /** Reads what there is up to a full chunk, so that a mark of three bytes is never cut in two. */
    private boolean fill() throws IOException {
        from = 0;
        to = in.readNBytes(chunk, 0, chunk.length);
        bytesRead += to;
        return to > 0;
    }

    private @Nullable FileLine read() throws IOException {
        length = 0;
        boolean tooLong = false;
        while (from < to || fill()) {
            int end = from;
            while (end < to && chunk[end] != '\n') {
                end++;
            }
            tooLong |= !keep(end);
            from = end;
            if (end < to) {
                from++;
                return made("\n", tooLong);
            }
        }
        return length == 0 && !tooLong ? null : made("", tooLong);
    }

    /** Keeps the bytes up to {@code end}, but no more of a line than could be a row. */
    private boolean keep(int end) {
        int room = Math.min(end - from, LONGEST * 4 - length);
        if (length + room > line.length) {
            line = Arrays.copyOf(line, Math.max(line.length * 2, length + room));
        }
        System.arraycopy(chunk, from, line, length, room);
        length += room;
        return room == end - from;
    }

    private FileLine made(String end, boolean tooLong) {
        number++;
        boolean carriageReturn = !end.isEmpty() && length > 0 && line[length - 1] == '\r';
        int size = carriageReturn ? length - 1 : length;
        String lineEnd = carriageReturn ? "\r\n" : end;
        String text;
        try {
            text = charset.newDecoder()
                    .onMalformedInput(CodingErrorAction.REPORT)
                    .onUnmappableCharacter(CodingErrorAction.REPORT)
                    .decode(ByteBuffer.wrap(line, 0, size))
                    .toString();
        } catch (CharacterCodingException e) {
            Charset like = charset.equals(StandardCharsets.UTF_8) ? ANY_BYTES : StandardCharsets.ISO_8859_1;
            String shown = new String(line, 0, Math.min(size, LONGEST), like).replace('\0', '\uFFFD');
            return new FileLine(
                    number, shown, lineEnd, tooLong ? MalformedRow.TOO_LONG : MalformedRow.NOT_THE_ENCODING);
        }
        if (tooLong || text.length() > LONGEST) {
            String shown = text.substring(0, Math.min(text.length(), LONGEST)).replace('\0', '\uFFFD');
            return new FileLine(number, shown, lineEnd, MalformedRow.TOO_LONG);
        }
        return text.indexOf('\0') >= 0
                ? new FileLine(number, text.replace('\0', '\uFFFD'), lineEnd, MalformedRow.NUL)
                : new FileLine(number, text, lineEnd, null);
    }
}
