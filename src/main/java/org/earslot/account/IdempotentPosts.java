package org.earslot.account;

import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import org.earslot.clinic.ClinicClock;
import org.jspecify.annotations.Nullable;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;

/**
 * The requests that programs have sent under a key of their own, and what they were answered. The primary key decides
 * which of two that come at once is done; each statement is a transaction of its own.
 */
@Component
public class IdempotentPosts {

    /** For so long the same key gets the same answer. */
    public static final Duration REMEMBERED = Duration.ofHours(24);

    /** After so long without an answer the server that began it has stopped. */
    private static final Duration GIVEN_UP = Duration.ofMinutes(15);

    private static final String ONE = " where clinic_id = ? and program = ? and idempotency_key = ?";

    private final JdbcTemplate jdbc;
    private final ClinicClock clock;

    IdempotentPosts(JdbcTemplate jdbc, ClinicClock clock) {
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** A request under a key; {@code hash} of everything that makes it the same request. */
    public record Post(SignedInUser.Program program, String key, String hash) {}

    /** What was answered; null is a header that was not sent. */
    public record Answer(
            int status,
            @Nullable String contentType,
            @Nullable String location,
            @Nullable String etag,
            String body) {}

    /** What is known of a request's key: nothing but this request if all are empty or false. */
    public record Known(
            boolean other, boolean running, @Nullable Answer answer) {

        static final Known NOTHING = new Known(false, false, null);
    }

    /** Notes that the request is being done, unless one with its key has come before. */
    public Known begin(Post post) {
        Instant now = clock.now();
        jdbc.update(
                "delete from idempotent_post where received_at < ? or (status is null and received_at < ?)",
                utc(now.minus(REMEMBERED)),
                utc(now.minus(GIVEN_UP)));
        Optional<Known> before = find(post);
        if (before.isPresent()) {
            return before.get();
        }
        try {
            jdbc.update(
                    "insert into idempotent_post (clinic_id, program, idempotency_key, request_hash, received_at)"
                            + " values (?, ?, ?, ?, ?)",
                    post.program().clinicId().value(),
                    post.program().name(),
                    post.key(),
                    post.hash(),
                    utc(now));
            return Known.NOTHING;
        } catch (DuplicateKeyException e) {
            return find(post).orElse(new Known(false, true, null));
        }
    }

    /** Keeps what the request was answered. */
    public void answered(Post post, Answer answer) {
        jdbc.update(
                "update idempotent_post set status = ?, content_type = ?, location = ?, etag = ?, body = ?" + ONE,
                answer.status(),
                answer.contentType(),
                answer.location(),
                answer.etag(),
                answer.body(),
                post.program().clinicId().value(),
                post.program().name(),
                post.key());
    }

    /** The request came to nothing and may be sent again under its key. */
    public void forget(Post post) {
        jdbc.update(
                "delete from idempotent_post" + ONE,
                post.program().clinicId().value(),
                post.program().name(),
                post.key());
    }

    private Optional<Known> find(Post post) {
        return jdbc
                .query(
                        "select request_hash, status, content_type, location, etag, body from idempotent_post" + ONE,
                        (row, number) -> {
                            int status = row.getInt(2);
                            boolean running = row.wasNull();
                            Answer answer = running
                                    ? null
                                    : new Answer(
                                            status,
                                            row.getString(3),
                                            row.getString(4),
                                            row.getString(5),
                                            row.getString(6));
                            return new Known(!row.getString(1).equals(post.hash()), running, answer);
                        },
                        post.program().clinicId().value(),
                        post.program().name(),
                        post.key())
                .stream()
                .findFirst();
    }

    private static OffsetDateTime utc(Instant instant) {
        return instant.atOffset(ZoneOffset.UTC);
    }
}
