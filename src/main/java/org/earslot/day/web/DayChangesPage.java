package org.earslot.day.web;

import java.time.LocalDate;
import org.earslot.clinic.CurrentClinic;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.format.annotation.DateTimeFormat.ISO;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.servlet.mvc.method.annotation.SseEmitter;

/** Tells an open screen when its day changes, by server-sent events. */
@Controller
class DayChangesPage {

    private final DayStreams streams;
    private final CurrentClinic current;

    DayChangesPage(DayStreams streams, CurrentClinic current) {
        this.streams = streams;
        this.current = current;
    }

    /** 503 where too many are open: the screen then looks again by itself. */
    @GetMapping(value = "/day/{date}/changes", produces = MediaType.TEXT_EVENT_STREAM_VALUE)
    ResponseEntity<SseEmitter> changes(@PathVariable @DateTimeFormat(iso = ISO.DATE) LocalDate date) {
        return streams.open(current.id(), date, current.who())
                .map(ResponseEntity::ok)
                .orElseGet(() ->
                        ResponseEntity.status(HttpStatus.SERVICE_UNAVAILABLE).build());
    }
}
