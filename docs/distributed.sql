-- The schema on a distributed PostgreSQL, on paper: all of a unit lies on one node, what every unit
-- refers to lies on each. Nobody has run the product on one yet; tests/db/distributed-keys tries the
-- first part on every migrated schema, and holds its keys against the second.

-- First part: plain PostgreSQL. The unit comes into every key of the tables that lie with it.

-- Rows that hang on a reading or an order, and do not name their unit yet.
alter table amendment add column unit_id text;
update amendment set unit_id = reading.unit_id from reading where reading.id = reading_id;
alter table amendment alter column unit_id set not null;
alter table line_photo add column unit_id text;
update line_photo set unit_id = reading.unit_id from reading where reading.id = reading_id;
alter table line_photo alter column unit_id set not null;
alter table work_task add column unit_id text;
update work_task set unit_id = work_order.unit_id from work_order where work_order.id = work_order_id;
alter table work_task alter column unit_id set not null;

-- Keys of one column, and what refers to them, give way to keys with the unit.
alter table amendment drop constraint amendment_reading_id_reading_id_fk;
alter table line_photo drop constraint line_photo_reading_id_reading_id_fk;
alter table spell drop constraint spell_reading_id_reading_id_fk,
  drop constraint spell_proof_reading_id_reading_id_fk,
  drop constraint spell_work_order_id_work_order_id_fk;
alter table fitment drop constraint fitment_work_order_id_work_order_id_fk;
alter table bulletin_unit drop constraint bulletin_unit_work_order_id_work_order_id_fk;
alter table reading drop constraint reading_work_order_id_work_order_id_fk;
alter table work_task drop constraint work_task_work_order_id_work_order_id_fk;

alter table reading drop constraint reading_pkey, add primary key (unit_id, id),
  drop constraint reading_entry_unique, add unique (unit_id, entry);
alter table work_order drop constraint work_order_pkey, add primary key (unit_id, id),
  drop constraint work_order_number_unique, add unique (unit_id, number);
alter table verdict drop constraint verdict_pkey, add primary key (unit_id, id);
alter table fitment drop constraint fitment_pkey, add primary key (unit_id, id);
alter table spell drop constraint spell_pkey, add primary key (unit_id, id);
alter table amendment drop constraint amendment_pkey, add primary key (unit_id, id);
alter table line_photo drop constraint line_photo_pkey, add primary key (unit_id, reading_id);
alter table work_task drop constraint work_task_pkey, add primary key (unit_id, id);
-- Two units with one VIN are then found by the forms and the import alone.
alter table unit drop constraint unit_vin_unique;
create index unit_vin on unit (vin);

alter table amendment add foreign key (unit_id, reading_id) references reading (unit_id, id);
alter table line_photo add foreign key (unit_id, reading_id) references reading (unit_id, id);
alter table spell add foreign key (unit_id, reading_id) references reading (unit_id, id),
  add foreign key (unit_id, proof_reading_id) references reading (unit_id, id),
  add foreign key (unit_id, work_order_id) references work_order (unit_id, id);
alter table fitment add foreign key (unit_id, work_order_id) references work_order (unit_id, id);
alter table bulletin_unit add foreign key (unit_id, work_order_id) references work_order (unit_id, id);
alter table reading add foreign key (unit_id, work_order_id) references work_order (unit_id, id);
alter table work_task add foreign key (unit_id, work_order_id) references work_order (unit_id, id)
  on delete cascade;

-- The ledger is one chain and stays on one node; rows on others cannot refer to it.
alter table purged_unit drop constraint purged_unit_entry_ledger_entry_entry_fk;

-- Second part: needs the extension that distributes.

create extension citus;
set citus.enable_unsafe_triggers = on; -- reading and spell keep their guards against change

select create_reference_table('shed');
select create_reference_table('person');
select create_reference_table('gauge');
select create_reference_table('limit_set');
select create_reference_table('fleet_prior');
select create_reference_table('bulletin');

select create_distributed_table('unit', 'id');
select create_distributed_table('reading', 'unit_id', colocate_with => 'unit');
select create_distributed_table('verdict', 'unit_id', colocate_with => 'unit');
select create_distributed_table('fitment', 'unit_id', colocate_with => 'unit');
select create_distributed_table('work_order', 'unit_id', colocate_with => 'unit');
select create_distributed_table('work_task', 'unit_id', colocate_with => 'unit');
select create_distributed_table('spell', 'unit_id', colocate_with => 'unit');
select create_distributed_table('amendment', 'unit_id', colocate_with => 'unit');
select create_distributed_table('line_photo', 'unit_id', colocate_with => 'unit');
select create_distributed_table('bulletin_unit', 'unit_id', colocate_with => 'unit');
select create_distributed_table('unit_absence', 'unit_id', colocate_with => 'unit');
select create_distributed_table('judging_due', 'unit_id', colocate_with => 'unit');
select create_distributed_table('import_reading', 'unit_id', colocate_with => 'unit');
select create_distributed_table('purged_unit', 'unit_id', colocate_with => 'unit');
