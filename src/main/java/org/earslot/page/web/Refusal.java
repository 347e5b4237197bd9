package org.earslot.page.web;

import java.util.List;
import java.util.Map;
import org.earslot.page.Problem;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;

/**
 * Why a request is not answered as asked, ready to be shown.
 *
 * @param status 4xx or 5xx
 * @param code short, with hyphens, the same for ever
 * @param detail one sentence for people
 * @param problems each wrong field
 * @param reference what the log knows it by, if the fault is ours
 * @param headers to be sent with it
 * @param members what a problem document says besides
 */
record Refusal(
        int status,
        String code,
        String detail,
        List<Problem> problems,
        @Nullable String reference,
        HttpHeaders headers,
        Map<String, Object> members) {

    Refusal(int status, String code, String detail, List<Problem> problems) {
        this(status, code, detail, problems, null, new HttpHeaders(), Map.of());
    }

    Refusal(int status, String code, String detail) {
        this(status, code, detail, List.of());
    }

    Refusal with(HttpHeaders sent) {
        return new Refusal(status, code, detail, problems, reference, sent, members);
    }

    Refusal knownAs(String newReference) {
        return new Refusal(status, code, detail, problems, newReference, headers, members);
    }

    Refusal saying(Map<String, Object> more) {
        return new Refusal(status, code, detail, problems, reference, headers, more);
    }

    /** The words of the status in HTTP. */
    String phrase() {
        HttpStatus known = HttpStatus.resolve(status);
        return known == null ? "Error" : known.getReasonPhrase();
    }
}
