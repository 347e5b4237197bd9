package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import org.earslot.ear.Caution;
import org.earslot.ear.Method;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.context.support.DefaultMessageSourceResolvable;
import org.springframework.context.support.StaticMessageSource;

/** The one bean through which all wording is read. */
class ReadersMessagesTest {

    private final StaticMessageSource source = new StaticMessageSource();
    private final Messages messages = new Messages(source);

    ReadersMessagesTest() {
        source.setUseCodeAsDefaultMessage(true);
        source.addMessage("visits", Locale.UK, "{0} visits");
        source.addMessage("visits", Locale.GERMANY, "{0} Besuche");
        source.addMessage("Method.microsuction", Locale.UK, "microsuction");
        source.addMessage("Method.irrigation", Locale.UK, "water");
    }

    @AfterEach
    void forget_the_reader() {
        LocaleContextHolder.resetLocaleContext();
    }

    @Test
    void a_text_takes_its_arguments_in_the_readers_language() {
        LocaleContextHolder.setLocale(Locale.GERMANY);
        assertThat(messages.say("visits", 1200)).isEqualTo("1.200 Besuche");
    }

    @Test
    void nobody_reading_means_english() {
        assertThat(messages.say("visits", 1200)).isEqualTo("1,200 visits");
        assertThat(messages.say(new DefaultMessageSourceResolvable(new String[] {"visits"}, new Object[] {2})))
                .isEqualTo("2 visits");
    }

    @Test
    void a_missing_text_reads_as_its_key_and_is_not_found() {
        assertThat(messages.say("missing.key")).isEqualTo("missing.key");
        assertThat(messages.find("missing.key")).isEmpty();
        assertThat(messages.find("visits", 3)).contains("3 visits");
    }

    @Test
    void a_word_of_the_trade_is_found_by_its_type_and_code() {
        assertThat(Messages.key(Caution.EAR_SURGERY)).isEqualTo("Caution.ear_surgery");
        assertThat(messages.word(Method.MICROSUCTION)).isEqualTo("microsuction");
        assertThat(messages.words(List.of(Method.MICROSUCTION, Method.IRRIGATION)))
                .isEqualTo("microsuction, water");
    }
}
