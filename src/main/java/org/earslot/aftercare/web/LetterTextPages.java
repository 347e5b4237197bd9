package org.earslot.aftercare.web;

import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Optional;
import org.earslot.aftercare.LetterKind;
import org.earslot.aftercare.Letters;
import org.earslot.clinic.CurrentClinic;
import org.earslot.page.ChangedField;
import org.earslot.page.Edits;
import org.earslot.page.FormVersion;
import org.earslot.page.Messages;
import org.earslot.page.Reading;
import org.earslot.page.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The wording of letters, which the lead sets. */
@Controller
class LetterTextPages {

    private static final int LONGEST = 4000;

    private final Letters letters;
    private final Edits edits;
    private final CurrentClinic current;
    private final Messages messages;

    LetterTextPages(Letters letters, Edits edits, CurrentClinic current, Messages messages) {
        this.letters = letters;
        this.edits = edits;
        this.current = current;
        this.messages = messages;
    }

    @GetMapping("/setup/letters")
    String all(Model model) {
        model.addAttribute("kinds", LetterKind.values());
        return "aftercare/letters";
    }

    @GetMapping("/setup/letters/{kind}")
    String one(@PathVariable("kind") String code, Model model) {
        LetterKind kind = kind(code);
        return one(model, kind, letters.body(current.id(), kind), new Reading());
    }

    @PostMapping("/setup/letters/{kind}")
    String say(
            @PathVariable("kind") String code,
            @RequestParam(defaultValue = "") String body,
            @RequestParam(name = FormVersion.FIELD, defaultValue = "") String seen,
            Model model,
            RedirectAttributes redirect,
            HttpServletResponse response) {
        LetterKind kind = kind(code);
        Reading reading = new Reading();
        Optional<String> text =
                reading.required("body", reading.lines("body", body, LONGEST), "aftercare.allowed.letter");
        Optional<Optional<String>> said = text.isEmpty()
                ? Optional.of(Optional.empty())
                : edits.save(
                        seen, () -> version(kind), () -> letters.say(current.id(), kind, text.get(), current.who()));
        if (said.isEmpty()) {
            response.setStatus(HttpServletResponse.SC_CONFLICT);
            String now = letters.body(current.id(), kind);
            model.addAttribute(
                    "changes", List.of(new ChangedField(messages.say("aftercare.letters.body"), now, false)));
            return one(model, kind, body, reading);
        }
        said.get()
                .ifPresent(field -> reading.refuse(
                        "body",
                        field,
                        kind.fields().isEmpty() ? "aftercare.allowed.noFields" : "aftercare.allowed.fields",
                        "{" + field + "}",
                        String.join(", ", kind.fields())));
        if (!reading.clean()) {
            response.setStatus(HttpServletResponse.SC_BAD_REQUEST);
            return one(model, kind, body, reading);
        }
        redirect.addFlashAttribute("notice", messages.say("referral.notice.saved"));
        return "redirect:/setup/letters";
    }

    private String one(Model model, LetterKind kind, String body, Reading reading) {
        List<String> chosen = letters.chosen(body);
        model.addAttribute("kind", kind);
        model.addAttribute("version", version(kind));
        model.addAttribute("body", body);
        model.addAttribute("chosen", chosen);
        model.addAttribute(
                "others",
                kind.fields().stream().filter(field -> !chosen.contains(field)).toList());
        model.addAttribute("problems", reading.byField());
        return "aftercare/letter-text";
    }

    private FormVersion version(LetterKind kind) {
        return FormVersion.ofText(letters.body(current.id(), kind));
    }

    private static LetterKind kind(String code) {
        return LetterKind.of(code).orElseThrow(() -> Refused.notFound("letter"));
    }
}
