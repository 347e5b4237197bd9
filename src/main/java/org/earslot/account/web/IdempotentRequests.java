package org.earslot.account.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import org.apache.commons.codec.digest.DigestUtils;
import org.earslot.account.IdempotentPosts;
import org.earslot.account.IdempotentPosts.Answer;
import org.earslot.account.IdempotentPosts.Known;
import org.earslot.account.IdempotentPosts.Post;
import org.earslot.account.SignedInUser;
import org.earslot.page.Refused;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpHeaders;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;
import org.springframework.web.servlet.HandlerExceptionResolver;
import org.springframework.web.util.ContentCachingResponseWrapper;

/**
 * Does a program's request with an {@code Idempotency-Key} once: sent again within a day it gets the same answer, so a
 * program that has lost an answer may safely send again.
 */
@Component
@Order(Ordered.LOWEST_PRECEDENCE - 10)
class IdempotentRequests extends OncePerRequestFilter {

    static final String KEY = "Idempotency-Key";

    private static final String PROGRAMS = "/api/v1/";
    private static final int LONGEST_KEY = 200;
    private static final int LARGEST_BODY = 16 * 1024 * 1024;

    /** Nothing was tried: the program corrects the request, or waits, and sends it under the same key. */
    private static final Set<Integer> TRIED_NOTHING = Set.of(400, 401, 403, 405, 406, 413, 415, 429);

    private final IdempotentPosts posts;
    private final HandlerExceptionResolver refusals;

    IdempotentRequests(
            IdempotentPosts posts, @Qualifier("handlerExceptionResolver") HandlerExceptionResolver refusals) {
        this.posts = posts;
        this.refusals = refusals;
    }

    @Override
    protected boolean shouldNotFilter(HttpServletRequest request) {
        return !request.getMethod().equals("POST")
                || !request.getRequestURI().startsWith(request.getContextPath() + PROGRAMS)
                || request.getHeader(KEY) == null;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        Authentication asker = SecurityContextHolder.getContext().getAuthentication();
        if (asker == null || !(asker.getPrincipal() instanceof SignedInUser.Program program)) {
            chain.doFilter(request, response);
            return;
        }
        try {
            String key = key(request);
            RereadRequest kept = RereadRequest.of(request, LARGEST_BODY);
            Post post = new Post(program, key, hash(request, kept.body()));
            Known known = posts.begin(post);
            if (!known.other() && known.answer() != null) {
                repeat(known.answer(), response);
                return;
            }
            refuse(known);
            run(post, kept, response, chain);
        } catch (Refused refused) {
            refusals.resolveException(request, response, null, refused);
        }
    }

    private static void refuse(Known known) {
        if (known.other()) {
            throw new Refused(422, "key-used", "account.idempotency.used").at(KEY, "", "account.idempotency.newKey");
        }
        if (known.running()) {
            throw Refused.conflict("still-running", "account.idempotency.running")
                    .at(KEY, "", "account.idempotency.oneAtATime");
        }
    }

    private void run(Post post, HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        ContentCachingResponseWrapper kept = new ContentCachingResponseWrapper(response);
        boolean answered = false;
        try {
            chain.doFilter(request, kept);
            int status = kept.getStatus();
            answered = status < 500 && !TRIED_NOTHING.contains(status);
            if (answered) {
                posts.answered(
                        post,
                        new Answer(
                                status,
                                kept.getContentType(),
                                kept.getHeader(HttpHeaders.LOCATION),
                                kept.getHeader(HttpHeaders.ETAG),
                                new String(kept.getContentAsByteArray(), StandardCharsets.UTF_8)));
            }
        } finally {
            if (!answered) {
                posts.forget(post);
            }
        }
        kept.copyBodyToResponse();
    }

    private static void repeat(Answer answer, HttpServletResponse response) throws IOException {
        response.setStatus(answer.status());
        response.setContentType(answer.contentType());
        if (answer.location() != null) {
            response.setHeader(HttpHeaders.LOCATION, answer.location());
        }
        if (answer.etag() != null) {
            response.setHeader(HttpHeaders.ETAG, answer.etag());
        }
        response.getOutputStream().write(answer.body().getBytes(StandardCharsets.UTF_8));
    }

    private static String key(HttpServletRequest request) {
        String key = request.getHeader(KEY).strip();
        if (key.isEmpty() || key.length() > LONGEST_KEY || !key.chars().allMatch(c -> c > ' ' && c < 0x7F)) {
            throw Refused.invalid(List.of()).at(KEY, "", "account.idempotency.key", LONGEST_KEY);
        }
        return key;
    }

    private static String hash(HttpServletRequest request, byte[] body) {
        MessageDigest digest = DigestUtils.getSha256Digest();
        String address = request.getRequestURI() + "?" + Objects.toString(request.getQueryString(), "") + "\n";
        digest.update(address.getBytes(StandardCharsets.UTF_8));
        return HexFormat.of().formatHex(digest.digest(body));
    }
}
