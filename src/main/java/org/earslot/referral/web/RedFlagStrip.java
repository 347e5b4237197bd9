package org.earslot.referral.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.UUID;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.CurrentClinic;
import org.earslot.patient.Patient;
import org.earslot.referral.OpenRedFlags;
import org.earslot.referral.RedFlagCase;
import org.jspecify.annotations.Nullable;
import org.springframework.context.annotation.Configuration;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;

/** The red flags that wait for a clinician, at the head of every page until they are decided; an open page asks for them again. */
@Configuration
class RedFlagStrip implements WebMvcConfigurer, HandlerInterceptor {

    private final OpenRedFlags openRedFlags;
    private final RedFlagClock redFlagClock;
    private final CurrentClinic current;

    RedFlagStrip(OpenRedFlags openRedFlags, RedFlagClock redFlagClock, CurrentClinic current) {
        this.openRedFlags = openRedFlags;
        this.redFlagClock = redFlagClock;
        this.current = current;
    }

    /**
     * One case as the strip says it, with initials only.
     *
     * @param clinician who decides; null while nobody is named
     * @param by until when
     */
    record Line(
            UUID referralId,
            String initials,
            @Nullable String clinician,
            String by,
            boolean overdue,
            boolean toBeSeen) {}

    @Override
    public void addInterceptors(InterceptorRegistry registry) {
        registry.addInterceptor(this).excludePathPatterns("/api/**");
    }

    @Override
    public void postHandle(
            HttpServletRequest request, HttpServletResponse response, Object handler, @Nullable ModelAndView page) {
        String view = page == null ? null : page.getViewName();
        boolean whole = view != null && !view.startsWith("redirect:") && !view.contains("::");
        if (page != null && whole && request.getUserPrincipal() != null) {
            page.addObject("redFlagStrip", lines());
        }
    }

    private List<Line> lines() {
        ClinicId clinic = current.id();
        return openRedFlags.all(clinic).entrySet().stream()
                .map(one -> line(clinic, one.getKey(), one.getValue()))
                .toList();
    }

    private Line line(ClinicId clinic, RedFlagCase open, @Nullable Patient patient) {
        return new Line(
                open.referralId(),
                patient == null ? "" : patient.initials(),
                openRedFlags.clinician(open).orElse(null),
                redFlagClock.by(clinic, open),
                redFlagClock.overdue(clinic, open),
                !open.undecided());
    }
}
