package org.earslot.exchange.mapping;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Dates, times and lengths as spreadsheets write them. What is not understood is given back as it stands. */
final class OwnForms {

    private static final Pattern DAY_FIRST = Pattern.compile("(\\d{1,2})[/.-](\\d{1,2})[/.-](\\d{4}|\\d{2})(\\s.*)?");
    private static final Pattern YEAR_FIRST = Pattern.compile("(\\d{4})[/.-](\\d{1,2})[/.-](\\d{1,2})([T\\s].*)?");
    private static final Pattern TIME = Pattern.compile(
            "(?:.*\\d{2,4}[T\\s]+)?(\\d{1,2})[:.h](\\d{2})(?::\\d{2}(?:\\.\\d+)?)?\\s*([ap])?\\.?m?\\.?");
    private static final Pattern BARE_TIME = Pattern.compile("(\\d{2})(\\d{2})");
    private static final Pattern MINUTES = Pattern.compile("(\\d{1,4})(?:\\.0+)?\\s*(?:m|min|mins|minutes|')?\\.?");
    private static final int HALF_DAY = 12;

    private OwnForms() {}

    static String date(String own, DateOrder order) {
        Matcher dayFirst = DAY_FIRST.matcher(own);
        Matcher yearFirst = YEAR_FIRST.matcher(own);
        if (yearFirst.matches()) {
            return date(own, yearFirst.group(1), yearFirst.group(2), yearFirst.group(3));
        }
        if (order == DateOrder.DAY_FIRST && dayFirst.matches()) {
            String year = dayFirst.group(3).length() == 2 ? "20" + dayFirst.group(3) : dayFirst.group(3);
            return date(own, year, dayFirst.group(2), dayFirst.group(1));
        }
        return own;
    }

    private static String date(String own, String year, String month, String day) {
        try {
            return LocalDate.of(Integer.parseInt(year), Integer.parseInt(month), Integer.parseInt(day))
                    .toString();
        } catch (DateTimeException e) {
            return own;
        }
    }

    static String time(String own) {
        Matcher time = TIME.matcher(own.toLowerCase(Locale.ROOT));
        if (time.matches()) {
            return time(own, time.group(1), time.group(2), time.group(3));
        }
        Matcher bare = BARE_TIME.matcher(own);
        return bare.matches() ? time(own, bare.group(1), bare.group(2), null) : own;
    }

    private static String time(String own, String hours, String minutes, @Nullable String half) {
        int hour = Integer.parseInt(hours);
        if (half != null) {
            if (hour < 1 || hour > HALF_DAY) {
                return own;
            }
            hour = hour % HALF_DAY + (half.equals("p") ? HALF_DAY : 0);
        }
        try {
            return LocalTime.of(hour, Integer.parseInt(minutes)).toString();
        } catch (DateTimeException e) {
            return own;
        }
    }

    static String minutes(String own) {
        Matcher minutes = MINUTES.matcher(own.toLowerCase(Locale.ROOT));
        return minutes.matches() ? minutes.group(1) : own;
    }
}
