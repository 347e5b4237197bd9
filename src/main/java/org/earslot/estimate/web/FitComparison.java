package org.earslot.estimate.web;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.earslot.estimate.FitScores.Card;
import org.earslot.estimate.ModelReport;
import org.earslot.estimate.Snapshot;
import org.earslot.page.Figures;
import org.earslot.page.Messages;

/** Two fits side by side: their scores, minutes by method and ears, and what adds minutes. */
final class FitComparison {

    private final Messages messages;

    FitComparison(Messages messages) {
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
            told.put(messages.say("estimate.scores.distance"), number(card.crps(), 2));
            told.put(messages.say("estimate.scores.slotCost"), number(card.pinball(), 2));
            card.coverage()
                    .forEach((level, share) -> told.put(
                            messages.say("estimate.scores.within", Math.round(level * 100)),
                            messages.say("estimate.scores.percent", number(share * 100, 1))));
        });
        ModelReport learnt = fit.learnt();
        learnt.kinds().forEach(kind -> {
            String ears = messages.say(kind.ears() == 1 ? "estimate.learnt.one" : "estimate.learnt.both");
            String what = messages.say("Method." + kind.method()) + ", " + ears + ": ";
            told.put(what + messages.say("estimate.learnt.half"), number(kind.half(), 1));
            told.put(what + messages.say("estimate.learnt.most"), number(kind.most(), 1));
        });
        learnt.effects().forEach(effect -> {
            String where = effect.method().isEmpty()
                    ? messages.say("estimate.learnt.once")
                    : messages.say("Method." + effect.method());
            told.put(
                    where + ", " + messages.say(effect.factorWord()) + ": " + messages.say(effect.levelWord()),
                    number(effect.minutes(), 1));
        });
        return told;
    }

    private static String number(double value, int places) {
        return new Figures().of(value, places);
    }
}
