package org.earslot.daysheet;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.earslot.clinic.ClinicClock;
import org.earslot.clinic.ClinicId;
import org.earslot.clinic.kit.StockItem;
import org.earslot.clinic.kit.StockItems;
import org.earslot.daysheet.DaySheet.SheetLine;
import org.earslot.daysheet.DaySheet.Stock;
import org.earslot.daysheet.DaySheet.Warning;
import org.earslot.kit.KitForecast;
import org.springframework.stereotype.Component;

/** What to settle about the kit: sets that run short, a unit in another room, and the morning's count of stock. */
@Component
class KitWarnings {

    private final KitForecast forecast;
    private final StockItems stock;
    private final ClinicClock clock;

    KitWarnings(KitForecast forecast, StockItems stock, ClinicClock clock) {
        this.forecast = forecast;
        this.stock = stock;
        this.clock = clock;
    }

    /**
     * The kit of a day.
     *
     * @param low today's stock below the least
     * @param notCounted stock with no count of today
     */
    record OfDay(KitForecast.Day kit, List<Stock> low, List<String> notCounted) {

        /** What concerns the visits of one sheet; the stock concerns all. */
        List<Warning> warnings(List<SheetLine> lines) {
            List<Warning> warnings = new ArrayList<>();
            kit.shortSets().stream()
                    .filter(each -> lines.stream().anyMatch(line -> line.method() == each.method()))
                    .forEach(each -> warnings.add(new Warning.SetsShort(
                            each.kind(),
                            each.without(),
                            each.first(),
                            each.cleanAgain().orElse(null))));
            kit.clashes()
                    .forEach(clash -> lines.stream()
                            .filter(line -> line.appointmentId().equals(clash.appointmentId()))
                            .forEach(line -> warnings.add(new Warning.UnitElsewhere(
                                    line.start(),
                                    line.who().name(),
                                    clash.name(),
                                    clash.freeFrom(),
                                    line.appointmentId()))));
            kit.withoutUnit()
                    .forEach(without -> lines.stream()
                            .filter(line -> without.appointmentIds().contains(line.appointmentId()))
                            .forEach(line -> warnings.add(new Warning.UnitOutOfUse(
                                    line.start(), line.who().name(), without.method(), line.appointmentId()))));
            if (!low.isEmpty()) {
                warnings.add(new Warning.StockLow(low));
            }
            if (!notCounted.isEmpty()) {
                warnings.add(new Warning.StockNotCounted(notCounted));
            }
            return warnings;
        }
    }

    /** A day that is over has nothing to settle; stock is counted on the day. */
    OfDay of(ClinicId clinicId, LocalDate date) {
        LocalDate today = clock.today(clinicId);
        if (date.isBefore(today)) {
            return new OfDay(new KitForecast.Day(date, List.of(), List.of(), List.of()), List.of(), List.of());
        }
        List<StockItem> items = date.equals(today) ? stock.findByClinicIdOrderByName(clinicId) : List.of();
        return new OfDay(
                forecast.on(clinicId, date),
                items.stream()
                        .filter(StockItem::shortOf)
                        .flatMap(item ->
                                item.counted().stream().map(counted -> new Stock(item.name(), counted, item.least())))
                        .toList(),
                items.stream()
                        .filter(item -> counts(clinicId, item).noneMatch(today::equals))
                        .map(StockItem::name)
                        .toList());
    }

    private Stream<LocalDate> counts(ClinicId clinicId, StockItem item) {
        return item.countedAt().stream().map(at -> clock.local(clinicId, at).toLocalDate());
    }
}
