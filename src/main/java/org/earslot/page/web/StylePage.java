package org.earslot.page.web;

import java.util.List;
import java.util.Map;
import org.earslot.page.Messages;
import org.earslot.page.Problem;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** Every part that pages are made of, in every state, on one page. */
@Controller
class StylePage {

    private static final List<String> STATUSES =
            List.of("booked", "confirmed", "late", "here", "in-room", "away", "done", "off");
    private static final List<String> ICONS = List.of(
            "mark", "back", "on", "ring", "double", "half", "full", "away", "tick", "cross", "clock", "warning", "stop",
            "note", "search", "menu");

    private static final String WRONG = "styleWrong";
    private static final String GIVEN = "30 Feb 2026";

    @GetMapping("/setup/style")
    String style(Model model) {
        model.addAttribute("statuses", STATUSES);
        model.addAttribute("icons", ICONS);
        model.addAttribute("typed", Map.of(WRONG, GIVEN));
        model.addAttribute(
                "problems",
                Map.of(
                        WRONG,
                        new Problem(
                                WRONG, GIVEN, Messages.text("page.allowed.date"), Messages.text("page.style.remedy"))));
        return "page/style";
    }
}
