package org.earslot.estimate.web;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.earslot.estimate.FitScores.Card;
import org.earslot.estimate.ModelReport;
import org.earslot.estimate.Snapshot;
import org.earslot.page.Figures;
import org.springframework.context.MessageSource;

/** Two fits side by side: their scores, minutes by method and ears, and what adds minutes. */
final class FitComparison {

    private final MessageSource messages;

    FitComparison(MessageSource messages) {
        this.messages = messages;
    }

    /** One line; a dash where a fit has nothing to say. */
    public record Line(String what, String one, String other) {}

    List<Line> lines(Snapshot one, Snapshot other) {
        Map<String, String> first = told(one);
        Map<String, String> second = told(other);
        Map<String, String> all = new LinkedHashMap<>(first);
        second.forEach(all::putIfAbsent);
        List<Line> lines = new ArrayList<>();
        all.keySet()
                .forEach(what ->
                        lines.add(new Line(what, first.getOrDefault(what, "-"), second.getOrDefault(what, "-"))));
        return lines;
    }

    private Map<String, String> told(Snapshot fit) {
        Map<String, String> told = new LinkedHashMap<>();
        fit.scores().estimator().ifPresent(way -> {
            Card card = way.overall();
            told.put(say("estimate.scores.distance"), number(card.crps(), 2));
            told.put(say("estimate.scores.slotCost"), number(card.pinball(), 2));
            card.coverage()
                    .forEach((level, share) -> told.put(
                            say("estimate.scores.within", Math.round(level * 100)),
                            say("estimate.scores.percent", number(share * 100, 1))));
        });
        ModelReport learnt = fit.learnt();
        learnt.kinds().forEach(kind -> {
            String ears = say(kind.ears() == 1 ? "estimate.learnt.one" : "estimate.learnt.both");
            String what = say("Method." + kind.method()) + ", " + ears + ": ";
            told.put(what + say("estimate.learnt.half"), number(kind.half(), 1));
            told.put(what + say("estimate.learnt.most"), number(kind.most(), 1));
        });
        learnt.effects().forEach(effect -> {
            String where = effect.method().isEmpty() ? say("estimate.learnt.once") : say("Method." + effect.method());
            told.put(
                    where + ", " + say(effect.factorWord()) + ": " + say(effect.levelWord()),
                    number(effect.minutes(), 1));
        });
        return told;
    }

    private String say(String key, Object... values) {
        return messages.getMessage(key, values, key, Locale.ENGLISH);
    }

    private static String number(double value, int places) {
        return new Figures().of(value, places);
    }
}
