package org.earslot.account.web;

import java.util.List;
import org.earslot.account.DemoAccounts;
import org.earslot.account.FirstSignIn;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** The way in. */
@Controller
class SignInPage {

    private final ObjectProvider<DemoAccounts> demo;
    private final ObjectProvider<FirstSignIn> first;

    SignInPage(ObjectProvider<DemoAccounts> demo, ObjectProvider<FirstSignIn> first) {
        this.demo = demo;
        this.first = first;
    }

    @GetMapping(SecurityConfig.SIGN_IN)
    String signIn(Model model) {
        FirstSignIn firstSignIn = first.getIfAvailable();
        if (firstSignIn != null && firstSignIn.awaited()) {
            return "redirect:" + SecurityConfig.FIRST_SIGN_IN;
        }
        DemoAccounts accounts = demo.getIfAvailable();
        model.addAttribute("demoAccounts", accounts == null ? List.of() : accounts.shown());
        return "account/sign-in";
    }
}
