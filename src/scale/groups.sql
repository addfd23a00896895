SELECT quantity, bench, batch, count(value) AS n, avg(value) AS mean, var_samp(value) AS variance,
       min(lower_limit) AS lower_limit, max(upper_limit) AS upper_limit
  FROM judged WHERE tag = 'scale' GROUP BY SITE quantity, bench, batch ORDER BY quantity, bench, batch
