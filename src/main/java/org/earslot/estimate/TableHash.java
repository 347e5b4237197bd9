package org.earslot.estimate;

import java.io.BufferedOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.util.List;
import java.util.Map;
import org.apache.commons.codec.digest.DigestUtils;
import org.earslot.duration.table.Part;
import org.earslot.duration.table.Term;
import org.earslot.duration.table.VisitRow;
import org.earslot.duration.table.VisitTerms;
import org.jspecify.annotations.Nullable;

/** The hash of a table that a fit runs on: two tables have one hash only if they say the same, in the same order. */
final class TableHash {

    private final DataOutputStream out;
    private final Map<String, String> names;

    private TableHash(DataOutputStream out, Map<String, String> names) {
        this.out = out;
        this.names = names;
    }

    /**
     * SHA-256 of all that the rows say.
     *
     * @param names that stand for groups in it, so that no random id is hashed
     */
    static byte[] of(List<VisitRow> rows, Map<String, String> names) {
        MessageDigest digest = DigestUtils.getSha256Digest();
        try (DataOutputStream out = new DataOutputStream(
                new BufferedOutputStream(new DigestOutputStream(OutputStream.nullOutputStream(), digest)))) {
            TableHash hash = new TableHash(out, names);
            for (VisitRow row : rows) {
                hash.row(row);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return digest.digest();
    }

    private void row(VisitRow row) throws IOException {
        VisitTerms visit = row.terms();
        terms(visit.once());
        out.writeInt(visit.parts().size());
        for (Part part : visit.parts()) {
            text(part.name());
            text(part.kind());
            out.writeInt(part.used().size());
            for (String used : part.used()) {
                text(used);
            }
            terms(part.terms());
        }
        text(visit.group() == null ? null : names.getOrDefault(visit.group(), visit.group()));
        text(visit.person());
        text(visit.source());
        out.writeLong(visit.day());
        out.writeDouble(visit.lateness());
        out.writeDouble(row.minutes());
        out.writeByte(row.ending().ordinal());
        out.writeDouble(row.weight());
    }

    private void terms(List<Term> terms) throws IOException {
        out.writeInt(terms.size());
        for (Term term : terms) {
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
                out.writeInt(mixture.shares().size());
                for (Map.Entry<String, Double> share : mixture.shares().entrySet()) {
                    text(share.getKey());
                    out.writeDouble(share.getValue());
                }
            }
        }
    }

    private void text(@Nullable String text) throws IOException {
        out.writeBoolean(text != null);
        if (text != null) {
            out.writeUTF(text);
        }
    }
}
