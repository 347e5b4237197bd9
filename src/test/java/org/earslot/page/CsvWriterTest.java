package org.earslot.page;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class CsvWriterTest {

    @Test
    void texts_that_a_spreadsheet_takes_for_formulas_are_guarded_and_numbers_are_not() throws Exception {
        assertThat(written("x", "=1+1", "+44", "-1", "@all", "'=1", "it's", "2026-01-01"))
                .isEqualTo("x,'=1+1,'+44,'-1,'@all,''=1,it's,2026-01-01\r\n");
        assertThat(written("x", "\t=1", "\r=1", "\n=1")).isEqualTo("x,'\t=1,\"'\r=1\",\"'\n=1\"\r\n");
        assertThat(written(-3, -0.5, LocalDate.of(2026, 3, 2), null)).isEqualTo("-3,-0.5,2026-03-02,\r\n");
    }

    @Test
    void cells_are_quoted_where_they_need_it() throws Exception {
        assertThat(written("x", "a,b", "say \"ah\"", "a\r\nb", "a;b", ""))
                .isEqualTo("x,\"a,b\",\"say \"\"ah\"\"\",\"a\r\nb\",a;b,\r\n");
    }

    private static String written(Object... cells) throws Exception {
        StringBuilder out = new StringBuilder();
        List<Object> row = Arrays.asList(cells);
        new CsvWriter(out).write(row);
        return out.toString();
    }
}
