package org.earslot.estimate;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.security.DigestInputStream;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.InflaterInputStream;
import org.earslot.duration.table.Ending;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.jspecify.annotations.Nullable;

/**
 * The table that a fit ran on, as few bytes. Since a fit is deterministic, the table and the settings are the model: any
 * server makes the same one from them, to the last bit.
 *
 * <p>Equal texts, terms and parts are written once, where they come first, and by their number after that; read back,
 * rows share them.
 */
final class TrainingTableCodec {

    private static final int FORM = 1;
    private static final Ending[] ENDINGS = Ending.values();

    private TrainingTableCodec() {}

    /** @param bytes to keep @param hash SHA-256 of the table itself, the same however the bytes were squeezed */
    record Packed(byte[] bytes, byte[] hash) {}

    /** Packs the rows, in their order. */
    static Packed pack(List<VisitRow> rows) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        MessageDigest digest = sha256();
        try (DataOutputStream out = new DataOutputStream(
                new BufferedOutputStream(new DigestOutputStream(new DeflaterOutputStream(bytes), digest)))) {
            Writer writer = new Writer(out);
            out.writeByte(FORM);
            writer.whole(rows.size());
            for (VisitRow row : rows) {
                writer.row(row);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return new Packed(bytes.toByteArray(), digest.digest());
    }

    static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    /** @param hash as {@link #pack} made it, if the bytes are whole */
    record Unpacked(List<VisitRow> rows, byte[] hash) {}

    /** Unpacks what {@link #pack} made. @throws UncheckedIOException if the bytes are damaged or of a later form */
    static Unpacked unpack(byte[] bytes) {
        MessageDigest digest = sha256();
        try (DataInputStream in = new DataInputStream(new BufferedInputStream(
                new DigestInputStream(new InflaterInputStream(new ByteArrayInputStream(bytes)), digest)))) {
            int form = in.readByte();
            if (form != FORM) {
                throw new IOException("form " + form + " of a kept fit; this program reads form " + FORM);
            }
            Reader reader = new Reader(in);
            int count = (int) reader.whole();
            List<VisitRow> rows = new ArrayList<>(count);
            for (int i = 0; i < count; i++) {
                rows.add(reader.row());
            }
            // To the end of the stream, so that all of it is in the hash.
            in.transferTo(OutputStream.nullOutputStream());
            return new Unpacked(rows, digest.digest());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static final class Writer {

        private final DataOutputStream out;
        private final Map<Object, Integer> texts = new HashMap<>();
        private final Map<Object, Integer> terms = new HashMap<>();
        private final Map<Object, Integer> lists = new HashMap<>();
        private final Map<Object, Integer> parts = new HashMap<>();

        Writer(DataOutputStream out) {
            this.out = out;
        }

        void row(VisitRow row) throws IOException {
            VisitTerms visit = row.terms();
            list(visit.once());
            whole(visit.parts().size());
            for (Part part : visit.parts()) {
                part(part);
            }
            text(visit.group());
            text(visit.person());
            text(visit.source());
            out.writeLong(visit.day());
            out.writeDouble(visit.lateness());
            out.writeDouble(row.minutes());
            out.writeByte(row.ending().ordinal());
            out.writeDouble(row.weight());
        }

        private void part(Part part) throws IOException {
            if (firstTime(parts, part)) {
                text(part.name());
                text(part.kind());
                whole(part.used().size());
                for (String used : part.used()) {
                    text(used);
                }
                list(part.terms());
            }
        }

        private void list(List<Term> list) throws IOException {
            if (firstTime(lists, list)) {
                whole(list.size());
                for (Term term : list) {
                    term(term);
                }
            }
        }

        private void term(Term term) throws IOException {
            if (!firstTime(terms, term)) {
                return;
            }
            text(term.factor());
            if (term instanceof Term.Level level) {
                out.writeByte(0);
                text(level.level());
            } else if (term instanceof Term.Number number) {
                out.writeByte(1);
                out.writeDouble(number.value());
            } else if (term instanceof Term.Finding finding) {
                out.writeByte(2);
                text(finding.reported());
                text(finding.found());
            } else if (term instanceof Term.Mixture mixture) {
                out.writeByte(3);
                whole(mixture.shares().size());
                for (Map.Entry<String, Double> share : mixture.shares().entrySet()) {
                    text(share.getKey());
                    out.writeDouble(share.getValue());
                }
            }
        }

        /** 0 is null, else the text's number from 1. */
        private void text(@Nullable String text) throws IOException {
            if (text == null) {
                whole(0);
            } else if (firstTime(texts, text)) {
                out.writeUTF(text);
            }
        }

        /** Writes the number of a thing, from 1; true where it is new, so that the thing itself must follow. */
        private boolean firstTime(Map<Object, Integer> known, Object thing) throws IOException {
            Integer number = known.get(thing);
            if (number == null) {
                known.put(thing, known.size() + 1);
                whole(known.size());
                return true;
            }
            whole(number);
            return false;
        }

        /** Seven bits a byte, the lowest first. */
        void whole(long value) throws IOException {
            long left = value;
            while (left > 0x7f) {
                out.writeByte((int) (left & 0x7f | 0x80));
                left >>>= 7;
            }
            out.writeByte((int) left);
        }
    }

    private static final class Reader {

        private final DataInputStream in;
        private final List<String> texts = new ArrayList<>();
        private final List<Term> terms = new ArrayList<>();
        private final List<List<Term>> lists = new ArrayList<>();
        private final List<Part> parts = new ArrayList<>();

        Reader(DataInputStream in) {
            this.in = in;
        }

        VisitRow row() throws IOException {
            List<Term> once = list();
            List<Part> treated = new ArrayList<>();
            for (long left = whole(); left > 0; left--) {
                treated.add(part());
            }
            VisitTerms visit = new VisitTerms(
                    once, treated, textOrNull(), textOrNull(), textOrNull(), in.readLong(), in.readDouble());
            double minutes = in.readDouble();
            Ending ending = ENDINGS[in.readByte()];
            return new VisitRow(visit, minutes, ending, in.readDouble());
        }

        private Part part() throws IOException {
            int number = (int) whole();
            if (number > parts.size()) {
                String name = text();
                String kind = text();
                List<String> used = new ArrayList<>();
                for (long left = whole(); left > 0; left--) {
                    used.add(text());
                }
                parts.add(new Part(name, kind, used, list()));
            }
            return parts.get(number - 1);
        }

        private List<Term> list() throws IOException {
            int number = (int) whole();
            if (number > lists.size()) {
                List<Term> list = new ArrayList<>();
                for (long left = whole(); left > 0; left--) {
                    list.add(term());
                }
                lists.add(List.copyOf(list));
            }
            return lists.get(number - 1);
        }

        private Term term() throws IOException {
            int number = (int) whole();
            if (number > terms.size()) {
                terms.add(newTerm());
            }
            return terms.get(number - 1);
        }

        private Term newTerm() throws IOException {
            String factor = text();
            int form = in.readByte();
            return switch (form) {
                case 0 -> Term.level(factor, text());
                case 1 -> Term.number(factor, in.readDouble());
                case 2 -> Term.found(factor, textOrNull(), textOrNull());
                case 3 -> {
                    Map<String, Double> shares = new TreeMap<>();
                    for (long left = whole(); left > 0; left--) {
                        shares.put(text(), in.readDouble());
                    }
                    yield new Term.Mixture(factor, shares);
                }
                default -> throw new IOException("a term of unknown form " + form);
            };
        }

        private String text() throws IOException {
            String text = textOrNull();
            if (text == null) {
                throw new IOException("a name is missing");
            }
            return text;
        }

        private @Nullable String textOrNull() throws IOException {
            int number = (int) whole();
            if (number == 0) {
                return null;
            }
            if (number > texts.size()) {
                texts.add(in.readUTF());
            }
            return texts.get(number - 1);
        }

        long whole() throws IOException {
            long value = 0;
            for (int shift = 0; shift < 64; shift += 7) {
                byte next = in.readByte();
                value |= (next & 0x7fL) << shift;
                if (next >= 0) {
                    return value;
                }
            }
            throw new IOException("a whole number is too long");
        }
    }
}
