package org.earslot.unchanged;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.earslot.testing.PostgresServer;
import org.earslot.testing.Schema;

/**
 * What the migrations make of an empty database, table by table, read from the database's own catalogue: a line for
 * each column, constraint, index, trigger and view, as often as the database has it. What belongs to no table is listed
 * under {@code (schema)}, and so is the number of rows that the migrations leave in all tables.
 */
final class WrittenSchema {

    /** Names that a database invents count up with the migrations; they say nothing. */
    private static final Pattern INVENTED =
            Pattern.compile("\\b(CONSTRAINT|PRIMARY_KEY|SYSTEM_SEQUENCE)_[0-9A-F_]+\\b");

    /** Each answers two columns: a table, and a line about it. */
    private static final String[] OF_H2 = {"""
        select table_name, 'column ' || column_name || ' ' || data_type
               || coalesce('(' || character_maximum_length || ')', '')
               || coalesce('(' || numeric_precision || ',' || numeric_scale || ')', '')
               || coalesce('(' || datetime_precision || ')', '')
               || case is_nullable when 'YES' then '' else ' not null' end
               || coalesce(' default ' || column_default, '')
               || case is_identity when 'YES' then ' identity ' || identity_generation else '' end
               || coalesce(' generated ' || generation_expression, '')
          from information_schema.columns where table_schema = 'PUBLIC'""", """
        select c.table_name, 'constraint ' || c.constraint_name || ' ' || c.constraint_type
               || coalesce(' (' || (select listagg(k.column_name, ', ') within group (order by k.ordinal_position)
                    from information_schema.key_column_usage k
                    where k.constraint_schema = c.constraint_schema and k.constraint_name = c.constraint_name) || ')', '')
               || coalesce(' check ' || (select h.check_clause from information_schema.check_constraints h
                    where h.constraint_schema = c.constraint_schema and h.constraint_name = c.constraint_name), '')
               || coalesce((select ' references ' || u.table_name || ' (' || (select listagg(w.column_name, ', ')
                         within group (order by w.ordinal_position) from information_schema.key_column_usage w
                         where w.constraint_schema = u.constraint_schema and w.constraint_name = u.constraint_name)
                         || ') on delete ' || r.delete_rule || ' on update ' || r.update_rule
                    from information_schema.referential_constraints r join information_schema.table_constraints u
                      on u.constraint_schema = r.unique_constraint_schema and u.constraint_name = r.unique_constraint_name
                    where r.constraint_schema = c.constraint_schema and r.constraint_name = c.constraint_name), '')
          from information_schema.table_constraints c where c.table_schema = 'PUBLIC'""", """
        select i.table_name, 'index ' || case when i.is_generated then '(of a constraint)' else i.index_name end
               || ' ' || i.index_type_name || ' ('
               || (select listagg(c.column_name || ' ' || c.ordering_specification, ', ')
                   within group (order by c.ordinal_position) from information_schema.index_columns c
                   where c.index_schema = i.index_schema and c.index_name = i.index_name) || ')'
          from information_schema.indexes i where i.table_schema = 'PUBLIC'""", """
        select table_name, 'view ' || view_definition from information_schema.views where table_schema = 'PUBLIC'""", """
        select event_object_table, 'trigger ' || trigger_name || ' ' || action_timing || ' ' || event_manipulation
          from information_schema.triggers where trigger_schema = 'PUBLIC'""", """
        select '(schema)', 'sequence ' || sequence_name || ' ' || data_type || ' from ' || start_value || ' by ' || increment
          from information_schema.sequences where sequence_schema = 'PUBLIC'""", """
        select '(schema)', 'routine ' || routine_name from information_schema.routines where routine_schema = 'PUBLIC'""", """
        select '(schema)', 'domain ' || domain_name from information_schema.domains where domain_schema = 'PUBLIC'"""};

    private static final String[] OF_POSTGRES = {"""
        select c.relname, 'column ' || a.attname || ' ' || format_type(a.atttypid, a.atttypmod)
               || case when a.attnotnull then ' not null' else '' end
               || coalesce(' default ' || pg_get_expr(d.adbin, d.adrelid), '')
               || case a.attidentity when '' then '' else ' identity ' || a.attidentity::text end
               || case a.attgenerated when '' then '' else ' generated ' || a.attgenerated::text end
          from pg_attribute a join pg_class c on c.oid = a.attrelid
          left join pg_attrdef d on d.adrelid = a.attrelid and d.adnum = a.attnum
          where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'v', 'm', 'p')
            and a.attnum > 0 and not a.attisdropped""", """
        select conrelid::regclass::text, 'constraint ' || conname || ' ' || pg_get_constraintdef(oid)
          from pg_constraint where connamespace = 'public'::regnamespace and conrelid <> 0""", """
        select tablename, 'index ' || replace(indexdef, 'public.', '') from pg_indexes where schemaname = 'public'""", """
        select tgrelid::regclass::text, 'trigger ' || pg_get_triggerdef(t.oid)
          from pg_trigger t join pg_class c on c.oid = tgrelid
          where not tgisinternal and c.relnamespace = 'public'::regnamespace""", """
        select viewname, 'view ' || definition from pg_views where schemaname = 'public'""", """
        select '(schema)', 'sequence ' || sequencename || ' ' || data_type || ' from ' || start_value || ' by ' || increment_by
          from pg_sequences where schemaname = 'public'""", """
        select '(schema)', 'extension ' || extname from pg_extension""", """
        select '(schema)', 'routine ' || p.oid::regprocedure::text from pg_proc p
          where pronamespace = 'public'::regnamespace
            and not exists (select from pg_depend d where d.objid = p.oid and d.deptype = 'e')""", """
        select '(schema)', 'type ' || typname from pg_type t
          where typnamespace = 'public'::regnamespace and typtype in ('d', 'e')
            and not exists (select from pg_depend d where d.objid = t.oid and d.deptype = 'e')"""};

    private WrittenSchema() {}

    static Recording onH2() throws SQLException {
        return made("h2", "jdbc:h2:mem:written-schema;DB_CLOSE_DELAY=-1", "sa", "", OF_H2);
    }

    static Recording onPostgres() throws SQLException {
        return made(
                "postgresql",
                PostgresServer.newDatabase(),
                PostgresServer.user(),
                PostgresServer.password(),
                OF_POSTGRES);
    }

    private static Recording made(String vendor, String url, String user, String password, String[] questions)
            throws SQLException {
        Schema.of(vendor).dataSource(url, user, password).load().migrate();
        TreeMap<String, List<String>> tables = new TreeMap<>();
        try (Connection connection = DriverManager.getConnection(url, user, password);
                Statement statement = connection.createStatement()) {
            for (String question : questions) {
                ask(statement, question, tables);
            }
            tables.computeIfAbsent("(schema)", none -> new ArrayList<>())
                    .add("rows " + rows(statement, List.copyOf(tables.keySet())));
        }
        Recording recording = new Recording();
        tables.forEach(
                (table, lines) -> recording.add(table, lines.stream().sorted().collect(Collectors.joining("\n"))));
        return recording;
    }

    private static void ask(Statement statement, String question, TreeMap<String, List<String>> tables)
            throws SQLException {
        try (ResultSet rows = statement.executeQuery(question)) {
            while (rows.next()) {
                String table = rows.getString(1);
                if (!table.startsWith("flyway_")) {
                    String line = INVENTED.matcher(rows.getString(2)).replaceAll("(invented)");
                    tables.computeIfAbsent(table, any -> new ArrayList<>()).add(line.replaceAll("\\s+", " "));
                }
            }
        }
    }

    private static long rows(Statement statement, Collection<String> tables) throws SQLException {
        long rows = 0;
        for (String table : tables) {
            if (!table.equals("(schema)")) {
                try (ResultSet count = statement.executeQuery("select count(*) from \"" + table + '"')) {
                    count.next();
                    rows += count.getLong(1);
                }
            }
        }
        return rows;
    }
}
