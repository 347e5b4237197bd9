package org.earslot.clinic.web;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.earslot.clinic.Backups;
import org.earslot.clinic.CurrentClinic;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A copy of the database, made by the lead while the program runs. */
@Controller
@RequestMapping("/setup/backup")
class BackupPage {

    private final Backups backups;
    private final CurrentClinic current;

    BackupPage(Backups backups, CurrentClinic current) {
        this.backups = backups;
        this.current = current;
    }

    @GetMapping
    String show(Model model) {
        model.addAttribute("possible", backups.file().isPresent());
        return "clinic/backup";
    }

    @PostMapping
    String make(RedirectAttributes redirect) throws IOException {
        Optional<Path> made = backups.make(current);
        redirect.addFlashAttribute("made", made.map(Path::toString).orElse(null));
        return "redirect:/setup/backup";
    }
}
