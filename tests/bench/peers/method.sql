-- The published method in SQL.  The rule values are tables made by sql_tables.py; erfc() comes from
-- erfc.c.  Steps are MATERIALIZED: SQLite would else write each expression out where it is used.

-- Each date once: whole years to the last anniversary, then days over the days of the year begun.
CREATE TABLE years (written PRIMARY KEY, ranked, today) WITHOUT ROWID;
INSERT INTO years
WITH written AS (SELECT in_service AS written FROM segments UNION
                 SELECT coating_date FROM segments WHERE coating_date <> ''),
     start AS (SELECT written, CASE length(written) WHEN 4 THEN written || '-01-01'
                                                    WHEN 7 THEN written || '-01' ELSE written END AS d
               FROM written),
     both AS (SELECT written, d, day, CAST(substr(day, 1, 4) AS INTEGER) - CAST(substr(d, 1, 4) AS INTEGER) AS n
              FROM start, (SELECT ranked AS day FROM days UNION SELECT today FROM days)),
     whole AS MATERIALIZED (SELECT written, d, day, n - (date(d, n || ' years') > day) AS n FROM both),
     elapsed AS MATERIALIZED (
         SELECT written, day,
                max(0.0, n + (julianday(day) - julianday(date(d, n || ' years'))) /
                             (julianday(date(d, (n + 1) || ' years')) - julianday(date(d, n || ' years')))) AS years
         FROM whole)
SELECT r.written, r.years, t.years
FROM days JOIN elapsed r ON r.day = days.ranked JOIN elapsed t ON t.written = r.written AND t.day = days.today;

CREATE TABLE scored AS
WITH given AS MATERIALIZED (
    SELECT segment, m.mechanism, m.allowable, m.flow, z.outside, z.structural,
           max(s.nominal_wall, 0.01) AS wall,
           CASE s.design_pressure WHEN '' THEN r.default_pressure_mpa ELSE s.design_pressure END AS pressure,
           CASE m.mechanism WHEN 'wall_loss' THEN                                          -- eq. 2, 3
               (SELECT b.rate + b.slope * (s.operating_temperature - b.from_degc) FROM base_rate b
                WHERE b.driver = s.driver AND b.from_degc <= s.operating_temperature
                ORDER BY b.from_degc DESC LIMIT 1)
               * i.rate * c.rate * n.rate * max(p.rate, g.rate) END AS rate,
           CASE m.mechanism WHEN 'cracking' THEN
               (SELECT u.level FROM susceptibility u
                WHERE u.driver = s.driver
                  AND (s.operating_temperature < u.upto OR (u.inclusive AND s.operating_temperature = u.upto))
                ORDER BY u.upto LIMIT 1) END AS level,
           i.step + c.step + n.step AS steps,
           a.life, v.ranked AS service_ranked, v.today AS service_today,
           ifnull(k.ranked, v.ranked) AS age_ranked, ifnull(k.today, v.today) AS age_today,    -- eq. 5
           z.frequency * r.management_factor AS per_damage, q.cost
    FROM segments s, rules r
    JOIN material m ON m.word = s.material
    JOIN nominal_size z ON z.word = s.nominal_size
    JOIN insulation_type i ON i.word = s.insulation_type
    JOIN complexity c ON c.word = s.complexity
    JOIN insulation_condition n ON n.word = s.insulation_condition
    JOIN pooling p ON p.word = s.pooling
    JOIN ground_or_water_interface g ON g.word = s.ground_or_water_interface
    JOIN coating_quality a ON a.word = s.coating_quality
    JOIN consequence_category q ON q.word = s.consequence_category
    JOIN years v ON v.written = s.in_service
    LEFT JOIN years k ON k.written = s.coating_date
    WHERE m.mechanism <> ''),
loads AS MATERIALIZED (
    SELECT segment, per_damage, cost, rate / wall AS loss_a_year,
           max(service_ranked - min(life, age_ranked) + min(life, max(age_ranked - service_ranked, 0.0)), 0.0)
               AS exposed_ranked,                                                                 -- eq. 6, 7
           max(service_today - min(life, age_today) + min(life, max(age_today - service_today, 0.0)), 0.0)
               AS exposed_today,
           CASE mechanism WHEN 'wall_loss' THEN max(                                             -- eq. 14
               allowable / flow / wall * max(structural, pressure * outside / (2.0 * (allowable + pressure *
                   CASE WHEN wall < outside / 6.0 THEN r.coefficient_y
                        ELSE (outside - 2.0 * wall + 2.0 * r.allowance_mm)
                             / (outside + outside - 2.0 * wall + 2.0 * r.allowance_mm) END))),     -- eq. 10 to 12
               pressure * (outside - 2.0 * wall) / (r.shape * flow * wall)) END AS ratio,          -- eq. 13
           CASE mechanism WHEN 'cracking' THEN                                                   -- eq. 38 to 40
               (SELECT factor FROM base_damage WHERE base_damage.level = CASE given.level WHEN 0 THEN 0
                    ELSE max(0, min(r.worst_susceptibility, given.level + steps)) END) END AS base_damage
    FROM given, rules r),
fractions AS MATERIALIZED (
    SELECT *, loss_a_year * exposed_ranked AS a_ranked, loss_a_year * exposed_today AS a_today,    -- eq. 8
           ratio * ratio * r.cov_pressure * r.cov_pressure AS resistance FROM loads, rules r),
damage AS MATERIALIZED (
    SELECT segment, per_damage, cost, probability_cap,
           CASE WHEN base_damage IS NOT NULL                                                     -- eq. 41
           THEN min(base_damage * pow(max(exposed_ranked, 1.0), age_exponent), damage_cap)
           ELSE 0.5 / damage_factor_base * (                                                     -- eq. 17, 18
               prior_1 * erfc(sqrt(0.5) * (1.0 - state_factor_1 * a_ranked - ratio) / sqrt(
                   pow(state_factor_1 * a_ranked * cov_thinning, 2)
                   + pow((1.0 - state_factor_1 * a_ranked) * cov_flow_stress, 2) + resistance)) +
               prior_2 * erfc(sqrt(0.5) * (1.0 - state_factor_2 * a_ranked - ratio) / sqrt(
                   pow(state_factor_2 * a_ranked * cov_thinning, 2)
                   + pow((1.0 - state_factor_2 * a_ranked) * cov_flow_stress, 2) + resistance)) +
               prior_3 * erfc(sqrt(0.5) * (1.0 - state_factor_3 * a_ranked - ratio) / sqrt(
                   pow(state_factor_3 * a_ranked * cov_thinning, 2)
                   + pow((1.0 - state_factor_3 * a_ranked) * cov_flow_stress, 2) + resistance)))
           END AS damage_factor,
           CASE WHEN base_damage IS NOT NULL
           THEN min(base_damage * pow(max(exposed_today, 1.0), age_exponent), damage_cap)
           ELSE 0.5 / damage_factor_base * (
               prior_1 * erfc(sqrt(0.5) * (1.0 - state_factor_1 * a_today - ratio) / sqrt(
                   pow(state_factor_1 * a_today * cov_thinning, 2)
                   + pow((1.0 - state_factor_1 * a_today) * cov_flow_stress, 2) + resistance)) +
               prior_2 * erfc(sqrt(0.5) * (1.0 - state_factor_2 * a_today - ratio) / sqrt(
                   pow(state_factor_2 * a_today * cov_thinning, 2)
                   + pow((1.0 - state_factor_2 * a_today) * cov_flow_stress, 2) + resistance)) +
               prior_3 * erfc(sqrt(0.5) * (1.0 - state_factor_3 * a_today - ratio) / sqrt(
                   pow(state_factor_3 * a_today * cov_thinning, 2)
                   + pow((1.0 - state_factor_3 * a_today) * cov_flow_stress, 2) + resistance)))
           END AS damage_today
    FROM fractions)
SELECT segment, damage_factor, min(per_damage * damage_factor, probability_cap) AS probability,   -- eq. 20
       min(per_damage * damage_factor, probability_cap) * cost AS risk,                           -- eq. 22
       min(per_damage * damage_today, probability_cap) * cost AS risk_today
FROM damage;
