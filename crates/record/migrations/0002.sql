-- When each engine, build and job card was last worked on, so that the list need not search every field for it.

ALTER TABLE engine ADD COLUMN changed_ms INTEGER NOT NULL DEFAULT 0;
ALTER TABLE build ADD COLUMN changed_ms INTEGER NOT NULL DEFAULT 0;
ALTER TABLE visit ADD COLUMN changed_ms INTEGER NOT NULL DEFAULT 0;

UPDATE visit SET changed_ms = max(
    created_ms,
    coalesce((SELECT max(changed_ms) FROM field WHERE owner_kind = 'visit' AND owner_id = visit.id), 0),
    coalesce((SELECT max(made_ms) FROM result WHERE visit_id = visit.id), 0),
    coalesce((SELECT max(made_ms) FROM picture WHERE visit_id = visit.id), 0)
);

UPDATE build SET changed_ms = max(
    created_ms,
    coalesce((SELECT max(changed_ms) FROM field WHERE owner_kind = 'build' AND owner_id = build.id), 0),
    coalesce((SELECT max(changed_ms) FROM visit WHERE build_id = build.id), 0)
);

UPDATE engine SET changed_ms = max(
    created_ms,
    coalesce((SELECT max(changed_ms) FROM field WHERE owner_kind = 'engine' AND owner_id = engine.id), 0),
    coalesce((SELECT max(changed_ms) FROM build WHERE engine_id = engine.id), 0)
);

CREATE INDEX visit_of_build ON visit (build_id, deleted_ms, changed_ms);
