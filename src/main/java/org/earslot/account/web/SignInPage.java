package org.earslot.account.web;

import java.util.List;
import org.earslot.account.DemoAccounts;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** The way in. */
@Controller
class SignInPage {

    private final ObjectProvider<DemoAccounts> demo;

    SignInPage(ObjectProvider<DemoAccounts> demo) {
        this.demo = demo;
    }

    @GetMapping(SecurityConfig.SIGN_IN)
    String signIn(Model model) {
        DemoAccounts accounts = demo.getIfAvailable();
        model.addAttribute("demoAccounts", accounts == null ? List.of() : accounts.shown());
        return "account/sign-in";
    }
}
