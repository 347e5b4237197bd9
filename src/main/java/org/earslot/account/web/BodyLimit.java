package org.earslot.account.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ReadListener;
import jakarta.servlet.ServletException;
import jakarta.servlet.ServletInputStream;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.earslot.account.Role;
import org.earslot.account.SignedInUser;
import org.earslot.page.Refused;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.access.AccessDeniedHandler;
import org.springframework.util.unit.DataSize;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Refuses bodies that are too large before anything of them is kept: 256 KiB for all but files, which only a clinic lead
 * may send to the pages of imports, and only programs as CSV.
 */
class BodyLimit extends OncePerRequestFilter {

    static final DataSize SMALL = DataSize.ofKilobytes(256);

    private static final String FILES_OF_LEADS = "/import";
    private static final String PROGRAMS = "/api/";

    /** Reads its body itself, up to a limit of its own. */
    private static final String ESTIMATES = "/api/v1/estimates";

    private final DataSize largestFile;
    private final AccessDeniedHandler notAllowed;

    /** @param notAllowed who answers a file from somebody who may not send it */
    BodyLimit(DataSize largestFile, AccessDeniedHandler notAllowed) {
        this.largestFile = largestFile;
        this.notAllowed = notAllowed;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        String path = request.getRequestURI().substring(request.getContextPath().length());
        boolean unknown = request.getHeader(HttpHeaders.TRANSFER_ENCODING) != null;
        if (path.equals(ESTIMATES) || (request.getContentLengthLong() <= SMALL.toBytes() && !unknown)) {
            chain.doFilter(request, response);
            return;
        }
        if (path.startsWith(FILES_OF_LEADS) && isMultipart(request) && !isFile(path, request)) {
            notAllowed.handle(request, response, new AccessDeniedException("a file from somebody who is no lead"));
            return;
        }
        DataSize limit = isFile(path, request) ? largestFile : SMALL;
        if (request.getContentLengthLong() > limit.toBytes()) {
            throw tooLarge(limit);
        }
        if (unknown && limit == SMALL && isMultipart(request)) {
            // The container writes the parts of a form to disk before anybody can count them.
            throw new Refused(411, "length-needed", "account.body.lengthNeeded");
        }
        chain.doFilter(unknown && !isMultipart(request) ? new Counted(request, limit) : request, response);
    }

    private static boolean isFile(String path, HttpServletRequest request) {
        Authentication asker = SecurityContextHolder.getContext().getAuthentication();
        if (asker == null || !(asker.getPrincipal() instanceof SignedInUser known)) {
            return false;
        }
        return path.startsWith(PROGRAMS)
                ? known instanceof SignedInUser.Program && is(request, "text/csv")
                : known instanceof SignedInUser.Person person
                        && person.role() == Role.LEAD
                        && (path.equals(FILES_OF_LEADS) || path.startsWith(FILES_OF_LEADS + "/"));
    }

    private static boolean isMultipart(HttpServletRequest request) {
        return is(request, MediaType.MULTIPART_FORM_DATA_VALUE);
    }

    private static boolean is(HttpServletRequest request, String type) {
        String given = request.getContentType();
        return given != null && given.regionMatches(true, 0, type, 0, type.length());
    }

    private Refused tooLarge(DataSize limit) {
        String allowed = limit == SMALL ? limit.toKilobytes() + " KiB" : limit.toMegabytes() + " MiB";
        return new Refused(413, "too-large", "account.body.tooLarge", allowed);
    }

    /** A request whose length is not known beforehand, refused once it has grown too large. */
    private final class Counted extends HttpServletRequestWrapper {

        private final DataSize limit;

        Counted(HttpServletRequest request, DataSize limit) {
            super(request);
            this.limit = limit;
        }

        @Override
        public ServletInputStream getInputStream() throws IOException {
            ServletInputStream body = super.getInputStream();
            return new ServletInputStream() {

                private long left = limit.toBytes();

                @Override
                public int read() throws IOException {
                    int next = body.read();
                    count(next < 0 ? 0 : 1);
                    return next;
                }

                @Override
                public int read(byte[] to, int from, int length) throws IOException {
                    int got = body.read(to, from, length);
                    count(Math.max(0, got));
                    return got;
                }

                private void count(int bytes) {
                    left -= bytes;
                    if (left < 0) {
                        throw tooLarge(limit);
                    }
                }

                @Override
                public boolean isFinished() {
                    return body.isFinished();
                }

                @Override
                public boolean isReady() {
                    return body.isReady();
                }

                @Override
                public void setReadListener(ReadListener listener) {
                    body.setReadListener(listener);
                }
            };
        }
    }
}
