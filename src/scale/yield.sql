SELECT count(*) AS boards, sum(passed) AS passed
  FROM (SELECT run_uuid, min(CASE conformity WHEN 'pass' THEN 1 ELSE 0 END) AS passed
          FROM judged WHERE tag = 'scale' GROUP BY SITE run_uuid) AS board
