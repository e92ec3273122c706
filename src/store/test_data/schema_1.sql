PRAGMA application_id = 1179931185;
CREATE TABLE schema_version (version INTEGER NOT NULL PRIMARY KEY, what TEXT NOT NULL, applied TEXT NOT NULL);
CREATE TABLE counter (
        name TEXT NOT NULL PRIMARY KEY,
        value INTEGER NOT NULL);
CREATE TABLE lot (
        id TEXT NOT NULL PRIMARY KEY,
        revision INTEGER NOT NULL,
        record TEXT NOT NULL);
CREATE TABLE piece (
        no INTEGER NOT NULL PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        revision INTEGER NOT NULL,
        form TEXT NOT NULL,
        shape TEXT NOT NULL,
        lot TEXT REFERENCES lot (id),
        place TEXT NOT NULL,
        treatment TEXT NOT NULL,
        grade TEXT NOT NULL,
        decided INTEGER NOT NULL CHECK (decided IN (0, 1)),
        id_key TEXT NOT NULL,
        number_key TEXT NOT NULL,
        lot_key TEXT NOT NULL,
        place_key TEXT NOT NULL);
CREATE TABLE piece_record (
        no INTEGER NOT NULL PRIMARY KEY REFERENCES piece (no),
        record TEXT NOT NULL);
CREATE TABLE photo (
        piece TEXT NOT NULL REFERENCES piece (id),
        sha256 TEXT NOT NULL,
        revision INTEGER NOT NULL,
        record TEXT NOT NULL,
        PRIMARY KEY (piece, sha256));
CREATE TABLE batch (
        id INTEGER NOT NULL PRIMARY KEY,
        made_at TEXT NOT NULL,
        undoes INTEGER NOT NULL,
        undone_by INTEGER NOT NULL);
CREATE TABLE change (
        id INTEGER NOT NULL PRIMARY KEY,
        batch INTEGER NOT NULL REFERENCES batch (id),
        undoes INTEGER NOT NULL,
        state_before INTEGER NOT NULL,
        state INTEGER NOT NULL,
        made_at TEXT NOT NULL,
        entity INTEGER NOT NULL CHECK (entity IN (1, 2, 3)),
        record_key TEXT NOT NULL,
        piece TEXT NOT NULL,
        what TEXT NOT NULL,
        record_before TEXT NOT NULL,
        record_after TEXT NOT NULL);
CREATE INDEX piece_by_revision ON piece (revision);
CREATE INDEX piece_by_form ON piece (form);
CREATE INDEX piece_by_shape ON piece (shape);
CREATE INDEX piece_by_lot ON piece (lot);
CREATE INDEX piece_by_place ON piece (place);
CREATE INDEX piece_by_treatment ON piece (treatment);
CREATE INDEX piece_by_grade ON piece (grade);
CREATE INDEX piece_by_decided ON piece (decided);
CREATE INDEX piece_by_id_key ON piece (id_key);
CREATE INDEX piece_by_number_key ON piece (number_key);
CREATE INDEX piece_by_lot_key ON piece (lot_key);
CREATE INDEX piece_by_place_key ON piece (place_key);
CREATE INDEX photo_by_sha256 ON photo (sha256);
CREATE INDEX change_by_record ON change (entity, record_key);
CREATE INDEX change_by_piece ON change (piece);
CREATE INDEX change_by_batch ON change (batch);
CREATE INDEX batch_by_undoes ON batch (undoes, undone_by);
CREATE VIRTUAL TABLE piece_words USING fts5 (
        words, tokenize = 'ascii', detail = 'none', columnsize = 0, prefix = '1 2 3');
INSERT INTO schema_version (version, what, applied) VALUES (1, 'the first tables', '2026-03-01T09:00:00Z');
INSERT INTO counter (name, value) VALUES ('p-', 43);
INSERT INTO lot (id, revision, record) VALUES ('lot-barn', 12, '{"cost":40.0,"currency":"GBP","date":"2026-02~","id":"lot-barn","name":"Barn sale","note":"Two boxes","revision":12}');
INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, id_key, number_key, lot_key, place_key) VALUES (2, 'p-0041', 3, 'plate', 'harrow', 'lot-barn', 'top shelf', 'demo:t-117', 'first', 1, '0p-000000000041', '0000000000001?000000000007', '0barn sale', '0top shelf');
INSERT INTO piece (no, id, revision, form, shape, lot, place, treatment, grade, decided, id_key, number_key, lot_key, place_key) VALUES (8, 'p-0043', 8, 'saucer', '', NULL, '', '', '', 0, '0p-000000000043', '~', '~', '~');
INSERT INTO piece_record (no, record) VALUES (2, '{"attribution":{"answer":{"open":{"unlisted":0.02},"piece":"p-0041"},"packs":"demo@1 abc","when":"2026-02-01"},"changed":"2026-03-01T09:30:03Z","cost":12.5,"created":"2026-03-01T09:30:02Z","currency":"GBP","decision":{"date":"1931/1934","grade":"first","note":"rim agrees","treatment":"demo:t-117"},"lot":"lot-barn","note":"Crème glaze; ''quoted'' \"twice\"","piece":{"form":"plate","glaze":{"sure":"sure","value":"oat"},"id":"p-0041","looks":[{"place":"rim","sure":"sure","value":"fern-pair"},{"place":"centre","sure":"guess","value":"something"}],"number":{"sure":"sure","value":"1?7"},"shape":{"sure":"likely","value":"harrow"},"wear":"moderate"},"place":"top shelf","revision":3,"search_words":"117 Oat Fern"}');
INSERT INTO piece_record (no, record) VALUES (8, '{"changed":"2026-03-01T09:30:07Z","created":"2026-03-01T09:30:07Z","piece":{"form":"saucer","id":"p-0043","looks":[]},"revision":8}');
INSERT INTO photo (piece, sha256, revision, record) VALUES ('p-0041', '12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151', 4, '{"added":"2026-03-01T09:30:04Z","bytes":11,"height":3,"name":"front.jpg","piece":"p-0041","sha256":"12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151","type":"image/jpeg","width":4}');
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (1, '2026-03-01T09:30:01Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (2, '2026-03-01T09:30:02Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (3, '2026-03-01T09:30:03Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (4, '2026-03-01T09:30:04Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (5, '2026-03-01T09:30:05Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (6, '2026-03-01T09:30:06Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (7, '2026-03-01T09:30:07Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (8, '2026-03-01T09:30:08Z', 0, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (9, '2026-03-01T09:30:09Z', 8, 10);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (10, '2026-03-01T09:30:10Z', 9, 0);
INSERT INTO batch (id, made_at, undoes, undone_by) VALUES (11, '2026-03-01T09:30:11Z', 0, 0);
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (1, 1, 0, 0, 1, '2026-03-01T09:30:01Z', 2, 'lot-barn', '', 'Lot added. Name: Barn sale. Date: 2026-02~. Cost: 40 GBP.', '', '{"cost":40.0,"currency":"GBP","date":"2026-02~","id":"lot-barn","name":"Barn sale","revision":1}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (2, 2, 0, 0, 2, '2026-03-01T09:30:02Z', 1, 'p-0041', 'p-0041', 'Found at the bottom of the box.', '', '{"changed":"2026-03-01T09:30:02Z","cost":12.5,"created":"2026-03-01T09:30:02Z","currency":"GBP","lot":"lot-barn","note":"Crème glaze; ''quoted'' \"twice\"","piece":{"form":"plate","glaze":{"sure":"sure","value":"oat"},"id":"p-0041","looks":[{"place":"rim","sure":"sure","value":"fern-pair"},{"place":"centre","sure":"guess","value":"something"}],"number":{"sure":"sure","value":"1?7"},"shape":{"sure":"likely","value":"harrow"}},"place":"top shelf","revision":2}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (3, 3, 0, 2, 3, '2026-03-01T09:30:03Z', 1, 'p-0041', 'p-0041', 'Wear: moderate. Decided: demo:t-117, first, 1931/1934. Decision''s note: rim agrees. The engine''s answer is kept with it.', '{"changed":"2026-03-01T09:30:02Z","cost":12.5,"created":"2026-03-01T09:30:02Z","currency":"GBP","lot":"lot-barn","note":"Crème glaze; ''quoted'' \"twice\"","piece":{"form":"plate","glaze":{"sure":"sure","value":"oat"},"id":"p-0041","looks":[{"place":"rim","sure":"sure","value":"fern-pair"},{"place":"centre","sure":"guess","value":"something"}],"number":{"sure":"sure","value":"1?7"},"shape":{"sure":"likely","value":"harrow"}},"place":"top shelf","revision":2}', '{"attribution":{"answer":{"open":{"unlisted":0.02},"piece":"p-0041"},"packs":"demo@1 abc","when":"2026-02-01"},"changed":"2026-03-01T09:30:03Z","cost":12.5,"created":"2026-03-01T09:30:02Z","currency":"GBP","decision":{"date":"1931/1934","grade":"first","note":"rim agrees","treatment":"demo:t-117"},"lot":"lot-barn","note":"Crème glaze; ''quoted'' \"twice\"","piece":{"form":"plate","glaze":{"sure":"sure","value":"oat"},"id":"p-0041","looks":[{"place":"rim","sure":"sure","value":"fern-pair"},{"place":"centre","sure":"guess","value":"something"}],"number":{"sure":"sure","value":"1?7"},"shape":{"sure":"likely","value":"harrow"},"wear":"moderate"},"place":"top shelf","revision":3,"search_words":"117 Oat Fern"}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (4, 4, 0, 0, 4, '2026-03-01T09:30:04Z', 3, 'p-0041/12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151', 'p-0041', 'Photograph front.jpg added.', '', '{"added":"2026-03-01T09:30:04Z","bytes":11,"height":3,"name":"front.jpg","piece":"p-0041","sha256":"12ca2d2a0f3de8303a9ed1af0a808a2e7fc02c76110d0a33c9326a5ed9be8151","type":"image/jpeg","width":4}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (5, 5, 0, 0, 5, '2026-03-01T09:30:05Z', 3, 'p-0041/a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a', 'p-0041', 'Photograph back.jpg added.', '', '{"added":"2026-03-01T09:30:05Z","bytes":10,"height":3,"name":"back.jpg","piece":"p-0041","sha256":"a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a","type":"image/jpeg","width":4}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (6, 6, 0, 5, 6, '2026-03-01T09:30:06Z', 3, 'p-0041/a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a', 'p-0041', 'Photograph back.jpg removed.', '{"added":"2026-03-01T09:30:05Z","bytes":10,"height":3,"name":"back.jpg","piece":"p-0041","sha256":"a222c7925ecfb75b6ec4cc5dadf0b301843a46be78d9048447d284bf8f79373a","type":"image/jpeg","width":4}', '');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (7, 7, 0, 0, 7, '2026-03-01T09:30:07Z', 1, 'p-0042', 'p-0042', 'Added. Form: cup.', '', '{"changed":"2026-03-01T09:30:07Z","created":"2026-03-01T09:30:07Z","piece":{"form":"cup","id":"p-0042","looks":[]},"revision":7}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (8, 7, 0, 0, 8, '2026-03-01T09:30:07Z', 1, 'p-0043', 'p-0043', 'Added. Form: saucer.', '', '{"changed":"2026-03-01T09:30:07Z","created":"2026-03-01T09:30:07Z","piece":{"form":"saucer","id":"p-0043","looks":[]},"revision":8}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (9, 8, 0, 7, 9, '2026-03-01T09:30:08Z', 1, 'p-0042', 'p-0042', 'Broken.', '{"changed":"2026-03-01T09:30:07Z","created":"2026-03-01T09:30:07Z","piece":{"form":"cup","id":"p-0042","looks":[]},"revision":7}', '');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (10, 9, 9, 9, 7, '2026-03-01T09:30:09Z', 1, 'p-0042', 'p-0042', 'Undone: Broken.', '', '{"changed":"2026-03-01T09:30:09Z","created":"2026-03-01T09:30:07Z","piece":{"form":"cup","id":"p-0042","looks":[]},"revision":10}');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (11, 10, 10, 7, 9, '2026-03-01T09:30:10Z', 1, 'p-0042', 'p-0042', 'Done again: Broken.', '{"changed":"2026-03-01T09:30:09Z","created":"2026-03-01T09:30:07Z","piece":{"form":"cup","id":"p-0042","looks":[]},"revision":10}', '');
INSERT INTO change (id, batch, undoes, state_before, state, made_at, entity, record_key, piece, what, record_before, record_after) VALUES (12, 11, 0, 1, 12, '2026-03-01T09:30:11Z', 2, 'lot-barn', '', 'Note: Two boxes.', '{"cost":40.0,"currency":"GBP","date":"2026-02~","id":"lot-barn","name":"Barn sale","revision":1}', '{"cost":40.0,"currency":"GBP","date":"2026-02~","id":"lot-barn","name":"Barn sale","note":"Two boxes","revision":12}');
INSERT INTO piece_words (rowid, words) VALUES (2, '0041 117 17 7 agrees barn creme demot117 fern fernpair glaze harrow lotbarn oat p0041 pair plate quoted rim sale shelf t117 top twice');
INSERT INTO piece_words (rowid, words) VALUES (8, '0043 p0043 saucer');
