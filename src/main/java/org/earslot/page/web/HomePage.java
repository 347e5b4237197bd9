package org.earslot.page.web;

import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;

/** The address without a path leads to today. */
@Controller
class HomePage {

    @GetMapping("/")
    String home() {
        return "redirect:/day";
    }
}
